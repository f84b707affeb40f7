"""What a season yields and what it asks for: fish, crops and days as frames, and dated entries."""

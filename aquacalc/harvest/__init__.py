"""What a season yields and what it asks for: fish, crops, weeks and days as frames, and dated entries."""

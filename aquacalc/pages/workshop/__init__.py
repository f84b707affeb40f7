"""What a workshop prints: the run sheet, the hand-outs, the exercises and their answers."""

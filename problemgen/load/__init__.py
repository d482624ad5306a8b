"""The reading edge: files into records, faults collected."""

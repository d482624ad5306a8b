"""The frozen records, one file a stage."""

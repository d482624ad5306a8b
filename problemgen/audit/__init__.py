"""The promise, measured: simulated students at work on admitted variants, honest ones and mistaken ones."""

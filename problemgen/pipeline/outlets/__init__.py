"""What a build and a marking write: one class for each thing. A new one is its class, and its line in the list."""

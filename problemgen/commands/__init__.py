"""The commands of the command line, one module each: their arguments, and what they print."""

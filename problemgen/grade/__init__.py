"""Reading an answer, judging it, following it through."""

"""Laws, chaining, evaluation (exact, batch, interval), mistakes."""

"""What a marking writes: each outlet takes every student's result once, and writes what it is there for."""

"""The writing edge: files put in place together, and PDF."""

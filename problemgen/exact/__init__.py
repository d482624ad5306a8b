"""Exact numbers: the digits a number was written with, and the one rounding rule."""

"""set.toml as the page changes it: the text that one would have written by hand, comments kept.

In comes the text of a file and what is wanted of it, out goes the new text; it is tried by the reader of sets before it
is written.
"""

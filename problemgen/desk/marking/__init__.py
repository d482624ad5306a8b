"""A set's marking as its pages show it: what came back, how it is marked just now, and what was decided about it.

`place.py` knows the folders; `returns.py` puts what was dropped into them; `marked.py` keeps the marking of a class as
long as no file of it has changed; `strips_shown.py` and `cells_shown.py` lay it out.
"""

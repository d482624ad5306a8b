"""Many sheets in one file for the printer, in little memory: sheets as PDF come in, a tagged PDF/UA-1 file goes out.

A sheet is taken apart once, as it is printed (`leaves`): its objects get numbers that no other sheet has, and lie on
the disk as they will stand in every file that it is bound into. Binding (`bindery`) copies them one after another, and
writes what ties them together (`book`): the tree of pages, the tags, the outline, the places of all objects. Tags of
a sheet become one part of the file's tags. Objects of ISO 32000-1 are read by pikepdf, and by nothing of our own.
"""

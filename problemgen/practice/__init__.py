"""The practice page: one file with problems, their keys and the page's own program, for a browser without network."""

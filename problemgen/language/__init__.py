"""What is said to people, in the language they read: a message in English in; the same in the language spoken, out.

Messages stand in the code, in English. `catalogues/` holds a file a language, by the tools of gettext; numbers, lists
and dates are written as the Unicode CLDR has them (through Babel).
"""

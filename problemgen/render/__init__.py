"""Printers: a neutral document as data for a sheet, or as a page. Pure: nothing here opens a file."""

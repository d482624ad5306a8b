"""Printers: a neutral document in; Typst data, a page, or plain text out."""

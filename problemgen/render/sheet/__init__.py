"""A student's sheets: a variant in; a neutral document with data, scheme, parts, blanks and cautions out."""

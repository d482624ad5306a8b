"""Reading: the text of a cell in; a number with a unit, a substance, a formula or a ratio out, or why not."""

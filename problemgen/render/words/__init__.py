"""Words and numbers that sheets, keys and feedback share: quantities, units, given values, prompts."""

"""Keys: variants in; the lines of answers.json, the keys for the instructor and the summary of a build out."""

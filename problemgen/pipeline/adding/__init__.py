"""What an instructor adds to a course: a substance, a reaction of substances, a template of a reaction."""

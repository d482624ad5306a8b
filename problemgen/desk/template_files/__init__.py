"""A template as the desk's page shows it, and as it is written: what is wanted of it, its new text, its trial."""

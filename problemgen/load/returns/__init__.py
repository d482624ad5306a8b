"""What came back from students: a folder or an archive in; what each file holds out, or why it could not be read."""

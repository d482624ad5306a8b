"""answers.json: the file in; its head and one student's key at a time out, checked."""

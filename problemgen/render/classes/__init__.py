"""What is told of a whole class: results in; grades, the class report, the page of the week after out."""

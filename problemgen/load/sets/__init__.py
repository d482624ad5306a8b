"""Courses and sets: course.toml and set.toml in; a `Course`, a `ProblemSet`, the rules of marking out."""

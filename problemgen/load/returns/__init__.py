"""What comes back from students: files in; answers and pages out, within limits."""

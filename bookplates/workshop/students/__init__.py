"""Who makes which book: the names and what differs, from the spec or from a table of students."""

"""What is handed to a student: the steps and the glossary, from plan and path."""

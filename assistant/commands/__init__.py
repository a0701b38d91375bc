"""The command line and the plain dialogue."""

"""Starting the application, backing it up and restoring it."""

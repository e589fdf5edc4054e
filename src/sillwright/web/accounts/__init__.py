"""People, organisations, roles and invitations."""

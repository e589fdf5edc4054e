"""Accounts, organisations, invitations, the audit trail: their pages."""

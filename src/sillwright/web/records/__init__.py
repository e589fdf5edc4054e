"""What is kept: sites, openings, the log of observations with its current values, papers, the audit trail."""

"""The ground floor: quantities, facts, findings, rules and calculations. Knows nothing of doors."""

"""Charts of the workbench: shapes on the same canvas as the papers' drawings, one unit to a millimetre."""

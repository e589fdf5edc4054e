"""How a device is joined to an operator's input: directly, through a converter, or not at all, and how it is wired."""

"""Take-off: what to order for an opening, cut from what, fitted how."""

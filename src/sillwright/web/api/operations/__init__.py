"""The operations, by area. Each is thin: fetch with permission, call, answer."""

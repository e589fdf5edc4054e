"""Sites and their openings: lists, making, sharing, files in and out."""

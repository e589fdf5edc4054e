"""The web application: pages and API. Only the ``serve`` family of commands starts it; it holds no calculation."""

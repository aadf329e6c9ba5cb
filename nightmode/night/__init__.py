"""Opens a night: puts plan, site and kit together, and works out once all that depends on the sky."""

"""The day before: which night to choose, and which targets to put into a plan for this site and kit."""

"""The screens: each shows a page and takes its keys."""

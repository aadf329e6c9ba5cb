"""The screens: each composes a page, reads keys, and hands them on."""

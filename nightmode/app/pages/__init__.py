"""What stands on the screen, line by line, worked out without the screen."""

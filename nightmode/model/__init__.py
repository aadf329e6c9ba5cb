"""What the files hold: frozen models, unknown keys refused, no input or output."""

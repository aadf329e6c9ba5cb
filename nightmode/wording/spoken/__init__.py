"""Words for the ear: what the screen shows, as a voice says it; nothing here makes a sound."""

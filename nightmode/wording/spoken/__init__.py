"""Words for the ear: what the screen shows, made into sentences to be spoken. Nothing here makes a sound."""

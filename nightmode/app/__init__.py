"""The night screen, the only room that imports Textual; this file itself imports nothing."""

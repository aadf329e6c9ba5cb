"""Speaking aloud: which engine there is, the process that speaks, and the app's end of it.

Nothing is imported here, so that the process that speaks starts at once.
"""

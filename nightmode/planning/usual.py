"""How large a draft usually is and how long a target takes; light to import, for the help of the command."""

from nightmode.kinds import GROUPS

KIND_WORDS = tuple(GROUPS)
MOST, USUAL_COUNT = 100, 24
#: Minutes a target: less is a race; more than the longest is a wait (common practice, no published source).
#: The usual pace holds unless the observer says how long the evening is: then the targets are spread over it.
SHORTEST_MIN, USUAL_MIN, LONGEST_MIN = 5.0, 10.0, 20.0

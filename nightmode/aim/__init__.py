"""Where a target is, for somebody who pushes a telescope by hand: numbers in, numbers out."""

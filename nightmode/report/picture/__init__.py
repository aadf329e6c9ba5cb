"""Pictures as inline SVG and the page around them: black on white, one deep red, made to be printed."""

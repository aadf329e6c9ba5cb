"""Pictures as inline SVG, and the HTML page around them: black and one deep red on white, for print."""

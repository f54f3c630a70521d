"""Maps as SVG, from sheets: for the page, the report, and as files of their own."""

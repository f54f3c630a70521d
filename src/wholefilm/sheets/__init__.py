"""One pure view a screen: the page, the PDF chapter and `--json` print the same sheet."""

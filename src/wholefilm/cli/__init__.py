"""The command line: reads words, calls services, prints sheets. It decides nothing."""

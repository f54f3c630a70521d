"""The page: reads jobs and shows their sheets. It changes nothing."""

"""What to show: documents without a format. Figures are rounded for display here and only here."""

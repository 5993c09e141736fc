"""How the best plan is looked for: rules, trials, and what they begin from."""

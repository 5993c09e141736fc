"""What no plan can beat: the least finish, and molds that are too few in every order."""

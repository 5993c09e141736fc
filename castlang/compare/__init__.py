"""Two builds side by side: what is meant otherwise, and what follows from it for the shop."""

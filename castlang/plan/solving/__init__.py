"""Where the constraint solver comes in: loaded only when it is asked."""

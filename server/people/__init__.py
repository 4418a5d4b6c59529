"""Who is asking: sign-in, personal links, sessions, devices."""

"""What people see: one package per screen; `kit` is what all of them share."""

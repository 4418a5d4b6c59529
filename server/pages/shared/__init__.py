"""View code that several screens share: the build-up, the order of work, when who comes."""

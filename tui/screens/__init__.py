"""The screens: each composes, routes and shows; none computes."""

"""Facts from outside and the checks that hold roundhand against them; see the README of this folder."""

"""Many gardens through one executor: their plans, what they tell together, who needs a visit first."""

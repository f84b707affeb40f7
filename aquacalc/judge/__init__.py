"""The one judge of a water: lines, levels, the chloride rule, sizes of actions.

`levels` has the words and their order; `lines` reads the table of limits; `oxygen`, `temperature`, `ammonia`,
`nitrite` and `salt` judge what has a rule of its own; `share` a demand against a limit; `values` holds what
is known of a water, `water` judges it as a whole; `sizes` says how much is done at once,
`ration` how much fish are fed from morning to morning, `feed` how much in a water that was read.

Ranks run on floats and arrays alike. Nothing else compares a value of the water with a line.
"""

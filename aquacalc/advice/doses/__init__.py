"""Doses that are asked for: a plan with its portions, or why not and the milder way.

`request` is what is asked for; `planning.plan` makes the `answer`, a plan that may hold a refusal. `portion`
is the one rule for a portion of base, `course` goes through the days, `ratio` and `weekly` say which base is
next and how much a week wants. A plan never says a date: it says what to test, the portion, and what the
water does at once and settled; the number of portions is an estimate that each new test corrects.
"""

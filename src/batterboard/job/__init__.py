"""What did the builder write? One job file in, one frozen Job out, or every error of the file at once.

read_job("gate.toml")        Job, in SI, with its defaults listed as assumptions
read_text(text, name)        the same from a text
JobError.problems            Problem: mark (file, line, column), key, what is wrong, what would be right
problem_at(job, path, ...)   a Problem found out only later, with its place in the file
starting_file("gate")        a commented job to begin with
"""

from batterboard.job.errors import JobError, Mark, Problem
from batterboard.job.reader import problem_at, read_job, read_text
from batterboard.job.schema import Job
from batterboard.job.starting import KINDS, starting_file

__all__ = ["KINDS", "Job", "JobError", "Mark", "Problem", "problem_at", "read_job", "read_text", "starting_file"]

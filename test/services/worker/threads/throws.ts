/** A planner with a bug. */
throw new Error("a bug in the planner");

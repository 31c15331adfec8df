/** A planner that neither ends nor listens. */
while (true);

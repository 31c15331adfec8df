const minutesPerDay = 1440;

interface ClockSpan {
  readonly from: string;
  readonly to: string;
}

/** A shift that begins and ends earlier or later; null when it would begin on another day, have no length or be longer than 24 h. */
export function shiftedClock({ from, to }: ClockSpan, earlierMin: number, laterMin: number): ClockSpan | null {
  const fromMin = minuteOf(from);
  const toMin = minuteOf(to) + (minuteOf(to) <= fromMin ? minutesPerDay : 0);
  const [newFromMin, newToMin] = [fromMin - earlierMin, toMin + laterMin];
  const lengthMin = newToMin - newFromMin;
  if (newFromMin < 0 || newFromMin >= minutesPerDay || lengthMin <= 0 || lengthMin > minutesPerDay) return null;
  return { from: clockOf(newFromMin), to: clockOf(newToMin % minutesPerDay) };
}

function minuteOf(clock: string): number {
  const [hours, minutes] = clock.split(":");
  return Number(hours) * 60 + Number(minutes);
}

function clockOf(minute: number): string {
  const two = (value: number) => String(value).padStart(2, "0");
  return `${two(Math.floor(minute / 60))}:${two(minute % 60)}`;
}

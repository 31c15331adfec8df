/** A function of a number of loads that finds each answer once. */
export function remember<Value>(find: (loads: number) => Value): (loads: number) => Value {
  const known: (Value | undefined)[] = [];
  return (loads) => {
    known[loads] ??= find(loads);
    return known[loads];
  };
}

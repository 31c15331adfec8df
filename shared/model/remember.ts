/** The function, each of whose answers is kept. */
export function remember<Key, Value>(find: (key: Key) => Value): (key: Key) => Value {
  const known = new Map<Key, Value>();
  return (key) => {
    const before = known.get(key);
    // An answer may be undefined.
    if (before !== undefined || known.has(key)) return before!;
    const found = find(key);
    known.set(key, found);
    return found;
  };
}

/** The same, by a key that many inputs may share. */
export function rememberBy<Input extends readonly unknown[], Value>(
  keyOf: (...input: Input) => string,
  find: (...input: Input) => Value,
): (...input: Input) => Value {
  const known = new Map<string, Value>();
  return (...input) => {
    const key = keyOf(...input);
    const before = known.get(key);
    if (before !== undefined || known.has(key)) return before!;
    const found = find(...input);
    known.set(key, found);
    return found;
  };
}

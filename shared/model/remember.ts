/** The function, each of whose answers is kept. */
export function remember<Key, Value>(find: (key: Key) => Value): (key: Key) => Value {
  const known = new Map<Key, Value>();
  return (key) => {
    if (!known.has(key)) known.set(key, find(key));
    return known.get(key)!;
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
    if (!known.has(key)) known.set(key, find(...input));
    return known.get(key)!;
  };
}

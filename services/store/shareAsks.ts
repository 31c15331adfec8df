/**
 * Whoever asks while an answer is under way shares the next one with all who come meanwhile. So each answer was asked for after its asker came, and where a hundred ask at once the database is
 * asked twice.
 */
export function shareAsks<Answer>(ask: (key: string) => Promise<Answer>): (key: string) => Promise<Answer> {
  const underWay = new Map<string, Promise<void>>();
  const next = new Map<string, Promise<Answer>>();

  const begin = (key: string): Promise<Answer> => {
    const asked = ask(key);
    const ended = () => {
      if (underWay.get(key) === over) underWay.delete(key);
    };
    const over: Promise<void> = asked.then(ended, ended);
    underWay.set(key, over);
    return asked;
  };

  return (key) => {
    const over = underWay.get(key);
    if (over === undefined) return begin(key);
    const known = next.get(key);
    if (known !== undefined) return known;
    const shared = over.then(() => {
      next.delete(key);
      return begin(key);
    });
    next.set(key, shared);
    return shared;
  };
}

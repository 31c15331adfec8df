/**
 * Takes out of a text what may open something: passwords in addresses, what follows Bearer, queries and fragments of addresses (our links carry their secret there), and long random
 * words. A second line: what is logged is chosen so that none of it comes near the log.
 */
export function scrub(text: string): string {
  return text
    .replace(/(\w+:\/\/[^\s/@:]*):[^\s/@]*@/g, "$1:***@")
    .replace(/\b(Bearer|Basic)\s+[\w+/=.~-]+/gi, "$1 ***")
    .replace(
      /\b(set-cookie|cookie|authorization|password|secret|token)(["']?\s*[:=]\s*)("[^"]*"|'[^']*'|[^\s,;}]+)/gi,
      "$1$2***",
    )
    .replace(/(https?:\/\/[^\s?#]+|\/[\w/.-]*)[?#][^\s"']*/g, "$1?***");
}

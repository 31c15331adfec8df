/** XML 1.0, section 2.2: what is no character there is left out, for it could not be written in any way. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for.
const noCharacters = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]|\p{Surrogate}/gu;

/** Safe as content and in attributes. */
export function xmlText(words: string): string {
  return words
    .replace(noCharacters, "")
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");
}

export function element(name: string, content: string): string {
  return `<${name}>${content}</${name}>`;
}

/** Decimal and without an exponent; seven decimals are 11 mm. */
export function degrees(angleDeg: number): string {
  const text = angleDeg.toFixed(7).replace(/\.?0+$/, "");
  return text === "-0" ? "0" : text;
}

export const xmlHead = '<?xml version="1.0" encoding="UTF-8"?>';

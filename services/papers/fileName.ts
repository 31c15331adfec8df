/** Names of files may hold any letters, but no signs that a file system takes for its own, and not more than it takes. */
export function fileName(parts: readonly string[], extension: string): string {
  const stem = parts
    .join(" ")
    .normalize("NFC")
    // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for.
    .replace(/[\u0000-\u001f\u007f/\\:*?"<>|]+/g, " ")
    .replace(/\s+/g, " ")
    .trim();
  return `${[...stem].slice(0, 120).join("").trimEnd()}.${extension}`;
}

const digits = 4;
const decimalsMost = 6;

/** A number to four digits, more where the whole part is longer; no trailing zeros. */
export function figureWords(value: number): string {
  const wholeDigits = value === 0 ? 1 : Math.floor(Math.log10(Math.abs(value))) + 1;
  const decimals = Math.min(decimalsMost, Math.max(0, digits - wholeDigits));
  return String(Number(value.toFixed(decimals)));
}

export function signedPct(value: number): string {
  // Rounding leaves no "-0.0".
  const rounded = Number(value.toFixed(1)) + 0;
  return `${rounded < 0 ? "" : "+"}${rounded.toFixed(1)} %`;
}

export function counted(count: number, [one, many]: readonly [string, string]): string {
  return `${count} ${count === 1 ? one : many}`;
}

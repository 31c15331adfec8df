let onSignedOut: () => void = () => undefined;

/** The session has ended while somebody worked: whoever notices says so here. */
export const tellSignedOut = (): void => onSignedOut();
export function whenSignedOut(tell: () => void): void {
  onSignedOut = tell;
}

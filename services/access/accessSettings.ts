/** What signing in stands on. */
export interface AccessSettings {
  /** What links are signed with. */
  readonly secret: string;
  /** Where people reach us, as https://plan.example.org; null: at whatever address they have typed. */
  readonly origin: string | null;
}

/** Cookies are then sent over https only, and browsers come back over https only. */
export const isHttps = ({ origin }: AccessSettings): boolean => origin?.startsWith("https:") ?? false;

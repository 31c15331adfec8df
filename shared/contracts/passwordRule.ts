/** NIST SP 800-63B: length, and no rules of composition. Its third revision asks for 8, its fourth for 15 where nothing else is asked. Our choice: between them. */
export const passwordLeastCharacters = 12;

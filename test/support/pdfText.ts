import { extractText } from "unpdf";

/** The words of every page as a reader of its own (pdf.js) finds them, spaces and line breaks as one space. */
export async function pdfText(bytes: Buffer): Promise<string[]> {
  const { text } = await extractText(new Uint8Array(bytes));
  return text.map((page) => page.replace(/\s+/g, " ").trim());
}

/** Words that were broken over lines have spaces in them then. */
export const unspaced = (text: string): string => text.replace(/\s+/g, "");

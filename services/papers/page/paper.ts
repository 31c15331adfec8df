import PDFDocument from "pdfkit";
import { paperFonts } from "./fonts.ts";

export const paperSizes = ["a4", "letter"] as const;
export type PaperSize = (typeof paperSizes)[number];

export interface PaperOptions {
  readonly size: PaperSize;
  readonly landscape?: boolean;
  /** For the window of whoever opens it. */
  readonly title: string;
  /** At the foot of every page, beside its number. */
  readonly foot: string;
  readonly madeAt: Date;
}

export interface TextStyle {
  readonly bold?: boolean;
  readonly sizePt?: number;
  readonly xPt?: number;
  readonly widthPt?: number;
  readonly align?: "left" | "right" | "center";
}

/** Printers leave some 5 mm blank, and the clip takes the middle of the upper edge. */
const marginPt = 34;
const footPt = 16;
export const bodyPt = 9;

/** A document that is written from top to bottom; what does not fit goes on a new page. All is black, so that any printer will do. */
export class Paper {
  readonly doc: PDFKit.PDFDocument;
  readonly leftPt = marginPt;
  readonly widthPt: number;
  yPt = marginPt;
  readonly #bottomPt: number;
  readonly #foot: string;
  readonly #bytes: Promise<Buffer>;

  constructor({ size, landscape = false, title, foot, madeAt }: PaperOptions) {
    this.doc = new PDFDocument({
      size: size === "a4" ? "A4" : "LETTER",
      layout: landscape ? "landscape" : "portrait",
      // We turn the pages ourselves.
      margins: { left: marginPt, right: marginPt, top: marginPt, bottom: 0 },
      bufferPages: true,
      lang: "en",
      displayTitle: true,
      info: { Title: title, CreationDate: madeAt, ModDate: madeAt, Producer: "Calmhour", Creator: "Calmhour" },
    });
    const { plain, bold } = paperFonts();
    this.doc.registerFont("plain", plain).registerFont("bold", bold);
    this.widthPt = this.doc.page.width - 2 * marginPt;
    this.#bottomPt = this.doc.page.height - marginPt - footPt;
    this.#foot = foot;
    this.#bytes = collected(this.doc);
  }

  /** What is left of the page. */
  get roomPt(): number {
    return this.#bottomPt - this.yPt;
  }

  /** Of a whole page. */
  get pageRoomPt(): number {
    return this.#bottomPt - marginPt;
  }

  turnPage(): void {
    this.doc.addPage();
    this.yPt = marginPt;
  }

  /** Turns the page unless so much fits on it. */
  need(heightPt: number): void {
    if (heightPt > this.roomPt && this.yPt > marginPt) this.turnPage();
  }

  gap(heightPt: number): void {
    this.yPt += heightPt;
  }

  use({ bold = false, sizePt = bodyPt }: TextStyle): PDFKit.PDFDocument {
    return this.doc
      .font(bold ? "bold" : "plain")
      .fontSize(sizePt)
      .fillColor("black");
  }

  heightOf(words: string, style: TextStyle = {}): number {
    return this.use(style).heightOfString(words, { width: style.widthPt ?? this.widthPt });
  }

  widthOf(words: string, style: TextStyle = {}): number {
    return this.use(style).widthOfString(words);
  }

  /** Words at a place, without going on from there. */
  wordsAt(words: string, xPt: number, yPt: number, style: TextStyle = {}): void {
    this.use(style).text(words, xPt, yPt, { width: style.widthPt ?? this.widthPt, align: style.align ?? "left" });
  }

  /** A paragraph. */
  text(words: string, style: TextStyle = {}): void {
    const heightPt = this.heightOf(words, style);
    this.need(heightPt);
    this.wordsAt(words, style.xPt ?? this.leftPt, this.yPt, style);
    this.yPt += heightPt;
  }

  line(widthPt = 0.5): void {
    this.doc
      .lineWidth(widthPt)
      .strokeColor("black")
      .moveTo(this.leftPt, this.yPt)
      .lineTo(this.leftPt + this.widthPt, this.yPt)
      .stroke();
  }

  /** Numbers the pages and gives the bytes. */
  async finish(): Promise<Buffer> {
    const { start, count } = this.doc.bufferedPageRange();
    for (let page = start; page < start + count; page++) {
      this.doc.switchToPage(page);
      const yPt = this.doc.page.height - marginPt - 8;
      const style = { sizePt: 7.5 };
      const number = `Page ${page - start + 1} of ${count}`;
      const numberPt = this.widthOf(number, style) + 8;
      const footWords = this.cut(this.#foot, this.widthPt - numberPt - 8, style);
      this.wordsAt(footWords, this.leftPt, yPt, style);
      this.wordsAt(number, this.leftPt + this.widthPt - numberPt, yPt, { ...style, widthPt: numberPt, align: "right" });
    }
    this.doc.end();
    return this.#bytes;
  }

  /** As much of the words as fits on one line. */
  cut(words: string, widthPt: number, style: TextStyle = {}): string {
    if (this.widthOf(words, style) <= widthPt) return words;
    const signs = [...words];
    while (signs.length > 1 && this.widthOf(`${signs.join("").trimEnd()}…`, style) > widthPt) signs.pop();
    return `${signs.join("").trimEnd()}…`;
  }
}

function collected(doc: PDFKit.PDFDocument): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    doc.on("data", (chunk: Buffer) => chunks.push(chunk));
    doc.on("end", () => resolve(Buffer.concat(chunks)));
    doc.on("error", reject);
  });
}

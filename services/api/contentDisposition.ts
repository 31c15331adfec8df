/**
 * RFC 6266: a name in plain letters for whoever knows no more, and the true one by filename* in UTF-8 (RFC 8187), which goes before it. Shown in the
 * browser where it can, kept under this name where it cannot.
 */
export function contentDisposition(fileName: string): string {
  const plain = fileName
    .normalize("NFKD")
    .replace(/\p{Mark}/gu, "")
    .replace(/[^\w. ()-]/g, "_");
  // RFC 8187, section 3.2.1: what encodeURIComponent leaves and is no attr-char.
  const full = encodeURIComponent(fileName).replace(
    /['()*]/g,
    (sign) => `%${sign.charCodeAt(0).toString(16).toUpperCase()}`,
  );
  const isPlain = plain === fileName;
  return `inline; filename="${plain}"${isPlain ? "" : `; filename*=UTF-8''${full}`}`;
}

/** A drawing as a picture: shown by an address, so that nothing in it can act. */
export function pictureOf(svg: string): string {
  return `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
}

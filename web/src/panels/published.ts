/** What was published, in words, the page first. */

export interface Made {
  name: string;
  url: string;
}

const WORDS: readonly [RegExp, string][] = [
  [/^index\.html$/, "The page"],
  [/^leaflet-a4\.pdf$/, "Leaflet for A4 paper"],
  [/^leaflet-letter\.pdf$/, "Leaflet for Letter paper"],
  [/^chart.*\.svg$/, "Chart, as a drawing"],
  [/^chart.*\.png$/, "Chart, as a picture"],
  [/^pattern\.txt$/, "The plain text"],
];

/** The files in the order of what is looked at first, each with what it is; unknown ones come last by their names. */
export function inOrder(files: Made[]): (Made & { says: string })[] {
  const place = (file: Made) => {
    const found = WORDS.findIndex(([name]) => name.test(file.name));
    return found < 0 ? WORDS.length : found;
  };
  return [...files]
    .sort((one, other) => place(one) - place(other) || one.name.localeCompare(other.name))
    .map((file) => ({ ...file, says: WORDS[place(file)]?.[1] ?? file.name }));
}

/** The folder that the server would choose by itself, as far as it can be told here: hers to change. */
export function ownFolder(name: string): string {
  const stem = (name.split("/").at(-1) ?? "").replace(/\.(txt|md)$/i, "");
  return `${stem}-published`;
}

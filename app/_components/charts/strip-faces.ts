/** The faces that strips write with: what was drawn before they came is drawn again with them. */

const FACES = ['12px "IBM Plex Sans"', '12px "IBM Plex Mono"'];

let loading: Promise<void> | null = null;
let areThere = false;

/** Calls once when faces that are not there yet have come. @returns what takes the wish back */
export function whenFacesAreThere(draw: () => void): () => void {
  if (areThere) return () => {};
  let isWanted = true;
  loading ??= Promise.all(FACES.map((face) => document.fonts.load(face).catch(() => []))).then(
    () => {
      areThere = true;
    },
  );
  void loading.then(() => {
    if (isWanted) draw();
  });
  return () => {
    isWanted = false;
  };
}

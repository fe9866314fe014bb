/** How often a cosine is asked for meanwhile: what a search costs, in every run the same. */
export function cosines(does: () => void): number {
  const {cos} = Math;
  let asked = 0;
  Math.cos = (x) => {
    asked++;
    return cos(x);
  };
  try {
    does();
  } finally {
    Math.cos = cos;
  }
  return asked;
}

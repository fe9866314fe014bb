/** How often a function of Math is asked for meanwhile: what a search costs, in every run the same. */
function asked(name: 'cos' | 'exp', does: () => void): number {
  const original = Math[name];
  let calls = 0;
  Math[name] = (x) => {
    calls++;
    return original(x);
  };
  try {
    does();
  } finally {
    Math[name] = original;
  }
  return calls;
}

export const cosines = (does: () => void): number => asked('cos', does);

export const exponentials = (does: () => void): number => asked('exp', does);

import {useLayoutEffect, useRef, useState, type RefObject} from 'react';

/** Width of an element as it is laid out, so that a chart is drawn in the pixels that it has. */
export function useWidth<E extends HTMLElement>(initial = 300): [RefObject<E>, number] {
  const ref = useRef<E>(null);
  const [width, setWidth] = useState(initial);
  useLayoutEffect(() => {
    const element = ref.current;
    if (element === null) return undefined;
    const measure = (): void => setWidth(Math.max(200, Math.floor(element.clientWidth)));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return [ref, width];
}

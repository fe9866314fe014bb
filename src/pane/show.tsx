import {createRoot} from 'react-dom/client';
import {App} from './app/App';

export function showPane(element: HTMLElement): void {
  createRoot(element).render(<App />);
}

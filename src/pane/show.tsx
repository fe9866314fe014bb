import {FluentProvider, Title3, webLightTheme} from '@fluentui/react-components';
import {createRoot} from 'react-dom/client';

export function showPane(element: HTMLElement): void {
  createRoot(element).render(
    <FluentProvider theme={webLightTheme}>
      <Title3 as="h1">Wheel Ledger</Title3>
    </FluentProvider>,
  );
}

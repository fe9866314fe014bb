import {MessageBar, MessageBarBody} from '@fluentui/react-components';

/** A problem in words, said at once by a screen reader. */
export function Problem({words}: {readonly words: string}) {
  return (
    <MessageBar intent="error" layout="multiline" role="alert">
      <MessageBarBody>{words}</MessageBarBody>
    </MessageBar>
  );
}

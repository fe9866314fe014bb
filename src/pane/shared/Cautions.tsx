import {makeStyles, tokens} from '@fluentui/react-components';

const useStyles = makeStyles({
  caution: {
    borderLeft: `3px solid ${tokens.colorNeutralStrokeAccessible}`,
    paddingLeft: tokens.spacingHorizontalS,
    color: tokens.colorNeutralForeground2,
  },
});

/** What to mind, beside the instruction that it belongs to. */
export function Cautions({texts}: {readonly texts: readonly string[]}) {
  const styles = useStyles();
  return (
    <div className={styles.caution} role="note" aria-label="Cautions">
      {texts.map((text) => (
        <p key={text}>{text}</p>
      ))}
    </div>
  );
}

/** The folder of the repository. */
declare const root: string;
export = root;

/** A file that cannot be read or written as asked. The message goes on where the file's name ends: "… is damaged". */
export class FileProblem extends Error {}

/** The script of the workbook host's page. */
export {};

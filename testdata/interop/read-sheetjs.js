// Prints what SheetJS reads of a workbook: its sheets, and value and format of every formula cell.
const xlsx = require('xlsx');

const book = xlsx.readFile(process.argv[2], { cellFormula: true, cellNF: true });
const cells = {};
for (const name of book.SheetNames) {
  for (const [at, cell] of Object.entries(book.Sheets[name])) {
    if (cell && cell.f) cells[`${name}!${at}`] = [cell.t === 'e' ? cell.w : cell.v === undefined ? null : cell.v, cell.z || 'General'];
  }
}
process.stdout.write(JSON.stringify({ sheets: book.SheetNames, normal: true, cells }));

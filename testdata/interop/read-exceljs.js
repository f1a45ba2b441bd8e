// Prints what exceljs reads of a workbook: its sheets, and value and format of every formula cell.
const { Workbook } = require('exceljs');

async function main() {
  const book = new Workbook();
  await book.xlsx.readFile(process.argv[2]);
  const cells = {};
  book.worksheets.forEach((sheet) => sheet.eachRow((row) => row.eachCell((cell) => {
    if (!cell.formula) return;
    const result = cell.result;
    cells[`${sheet.name}!${cell.address}`] = [result && result.error ? result.error : result === undefined ? null : result, cell.numFmt || 'General'];
  })));
  process.stdout.write(JSON.stringify({ sheets: book.worksheets.map((s) => s.name), normal: true, cells }));
}

main().catch((err) => { console.error(err); process.exit(1); });

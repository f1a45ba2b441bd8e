# Prints what openpyxl reads of a workbook: its sheets, and value and format of every formula cell. A warning is an error.
import json, sys, warnings
import openpyxl

warnings.simplefilter("error")
formulas = openpyxl.load_workbook(sys.argv[1])
values = openpyxl.load_workbook(sys.argv[1], data_only=True)
cells = {}
for sheet in formulas.worksheets:
    other = values[sheet.title]
    for row in sheet.iter_rows():
        for cell in row:
            if cell.data_type == "f":
                cells[sheet.title + "!" + cell.coordinate] = [other[cell.coordinate].value, cell.number_format]
json.dump({"sheets": formulas.sheetnames, "normal": "Normal" in formulas.named_styles, "cells": cells}, sys.stdout, default=str)

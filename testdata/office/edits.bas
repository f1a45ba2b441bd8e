REM LibreOffice Basic, run by scenarios/officeedits_test.go: edits a live workbook as a person would, recalculates what the
REM edit changes, reads results and takes the edit back, again and again in one process.
REM The job is a file of lines, named by the environment: workbook, file for the answer, sheet and range of the results; then
REM lines of words with a tab between: "number", "text" or "empty", sheet, cell, value; "row", sheet, number of a row above
REM which an empty one is inserted; "read", which ends an edit.
REM For every "read" the answer has a line for each row of the results, cells with a tab between, and an empty line.

Sub Main
    On Error GoTo Failed
    Dim f : f = 0
    Dim job : job = ReadLines(Environ("PIECECOST_EDITS"))
    Dim hidden(0) As New com.sun.star.beans.PropertyValue
    hidden(0).Name = "Hidden" : hidden(0).Value = True
    Dim doc : doc = StarDesktop.loadComponentFromURL(ConvertToURL(job(0)), "_blank", 0, hidden())
    Dim results : results = doc.Sheets.getByName(job(2)).getCellRangeByName(job(3))
    doc.calculateAll()
    f = FreeFile
    Open job(1) For Output As #f
    Dim saved(), first, i, j : first = 4
    For i = 4 To UBound(job)
        If job(i) = "read" Then
            ReDim saved(i - first)
            For j = first To i - 1 : saved(j - first) = Edit(doc, Split(job(j), Chr(9))) : Next
            doc.calculate()
            Answer(f, results)
            For j = i - 1 To first Step -1 : TakeBack(doc, Split(job(j), Chr(9)), saved(j - first)) : Next
            first = i + 1
        End If
    Next
    Close #f
    doc.close(True)
    Exit Sub
Failed:
    Dim said : said = "failed in line " & Erl & ": " & Error$
    If f <> 0 Then Close #f
    Dim g : g = FreeFile
    Open job(1) For Output As #g
    Print #g, said
    Close #g
    StarDesktop.terminate()    ' with the workbook open it would wait for ever
End Sub

' Edit does one thing and returns what was there: the kind of content and the content.
Function Edit(doc, words)
    Dim sheet : sheet = doc.Sheets.getByName(words(1))
    If words(0) = "row" Then
        sheet.Rows.insertByIndex(CLng(words(2)) - 1, 1)
        Edit = Array("row", "")
        Exit Function
    End If
    Dim cell : cell = sheet.getCellRangeByName(words(2))
    Select Case cell.Type
    Case com.sun.star.table.CellContentType.VALUE : Edit = Array("number", cell.Value)
    Case com.sun.star.table.CellContentType.TEXT : Edit = Array("text", cell.String)
    Case com.sun.star.table.CellContentType.FORMULA : Edit = Array("formula", cell.Formula)
    Case Else : Edit = Array("empty", "")
    End Select
    Dim value : value = ""
    If UBound(words) > 2 Then value = words(3)
    Fill(cell, words(0), value)
End Function

Sub TakeBack(doc, words, was)
    Dim sheet : sheet = doc.Sheets.getByName(words(1))
    If was(0) = "row" Then
        sheet.Rows.removeByIndex(CLng(words(2)) - 1, 1)
    Else
        Fill(sheet.getCellRangeByName(words(2)), was(0), was(1))
    End If
End Sub

Sub Fill(cell, kind, value)
    Select Case kind
    Case "number" : cell.Value = Val(value)
    Case "text" : cell.String = value
    Case "formula" : cell.Formula = value
    Case Else : cell.clearContents(1 + 2 + 4 + 16)    ' numbers, dates, texts, formulas; not the format
    End Select
End Sub

Sub Answer(f, results)
    Dim row, value, text
    For Each row In results.getDataArray()
        text = ""
        For Each value In row : text = text & Chr(9) & value : Next
        Print #f, Mid(text, 2)
    Next
    Print #f, ""
End Sub

Function ReadLines(path)
    Dim f, text, n, lines(100000)
    f = FreeFile
    Open path For Input As #f
    Do While Not Eof(f)
        Line Input #f, text
        lines(n) = text : n = n + 1
    Loop
    Close #f
    ReDim Preserve lines(n - 1)
    ReadLines = lines
End Function

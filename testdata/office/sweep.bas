REM LibreOffice Basic, run by scenarios/officesweep_test.go: puts annual volumes into a live workbook one by one,
REM recalculates, reads a block of results, and writes what it read and the milliseconds it took, loading excluded.
REM The job is a file of lines, named by the environment: workbook, file for the answer, what is recalculated, sheet and
REM range of the volume cells, sheet and range of the results, then the volumes. The first volume is not timed.

Sub Main
    On Error GoTo Failed
    Dim job : job = ReadLines(Environ("PIECECOST_SWEEP"))
    Dim asked : asked = job(2)
    Dim hidden(0) As New com.sun.star.beans.PropertyValue
    hidden(0).Name = "Hidden" : hidden(0).Value = True
    Dim doc : doc = StarDesktop.loadComponentFromURL(ConvertToURL(job(0)), "_blank", 0, hidden())
    Dim cells : cells = doc.Sheets.getByName(job(3)).getCellRangeByName(job(4))
    Dim results : results = doc.Sheets.getByName(job(5)).getCellRangeByName(job(6))
    Dim wide : wide = UBound(cells.getDataArray()(0))
    ' by hand where all formulas are asked for: else they would be computed twice
    doc.enableAutomaticCalculation(asked <> "all")
    If doc.isAutomaticCalculationEnabled() = (asked = "all") Then Error 17
    Dim count : count = UBound(job) - 7
    Dim seen(count), row(wide)
    Dim started As Long, recalculated As Long, calculating As Long, reading As Long
    For i = 0 To count
        For j = 0 To wide : row(j) = CDbl(job(7 + i)) : Next
        started = GetSystemTicks()
        cells.setDataArray(Array(row))
        If asked = "all" Then doc.calculateAll()         ' every formula of the workbook
        If asked = "dependents" Then doc.calculate()     ' every formula that is no longer up to date
        recalculated = GetSystemTicks()                  ' else reading makes what is read up to date
        seen(i) = results.getDataArray()
        If i > 0 Then
            calculating = calculating + recalculated - started
            reading = reading + GetSystemTicks() - recalculated
        End If
    Next
    Answer(job(1), calculating, reading, seen)
    doc.close(True)
    Exit Sub
Failed:
    Dim f : f = FreeFile
    Open job(1) For Output As #f
    Print #f, "failed in line " & Erl & ": " & Error$
    Close #f
    StarDesktop.terminate()    ' with the workbook open it would wait for ever
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

Sub Answer(path, calculating, reading, seen)
    Dim f : f = FreeFile
    Open path For Output As #f
    Print #f, "milliseconds " & calculating & " " & reading
    For i = 0 To UBound(seen)
        Dim text : text = ""
        For Each line In seen(i)
            For Each value In line : text = text & " " & value : Next
        Next
        Print #f, text
    Next
    Close #f
End Sub

package main

// version is the program's version; results of the same version and workbook are the same.
const version = "0.1.0"

package starter

import (
	"fmt"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
)

const (
	gradeHeading = "grade"
	gradeNote    = "Designation of a grade that `piececost grades` lists, where the key is a name of your own: DC04, 1.0338, EN AW-6082-T6. " +
		"Cells of the row that are empty have its values; a cell wins."
)

// gradesFrom is the row of the guide above the list of grades, behind that of processes.
func (b *starter) gradesFrom() int { return guideLists + len(b.lib.Processes) + 2 }

// guideGrades lists the grades, for the drop-down in Materials.
func (b *starter) guideGrades(head, text int) error {
	names := costmodel.GradeNames(b.lib.Grades)
	if len(names) == 0 {
		return nil
	}
	if err := b.put(guideSheet, b.gradesFrom(), 1, "Grades (for the drop-down in Materials)", head); err != nil {
		return err
	}
	for i, n := range names {
		if err := b.put(guideSheet, b.gradesFrom()+1+i, 1, n, text); err != nil {
			return err
		}
	}
	return nil
}

// gradeList offers the grades; what is written otherwise may be one too, so that nothing is refused here.
func (b *starter) gradeList(dv *excelize.DataValidation) error {
	n := len(b.lib.Grades)
	if n == 0 {
		return nil
	}
	dv.SetSqrefDropList(fmt.Sprintf("'%s'!$A$%d:$A$%d", guideSheet, b.gradesFrom()+1, b.gradesFrom()+n))
	dv.ShowErrorMessage = false
	return nil
}

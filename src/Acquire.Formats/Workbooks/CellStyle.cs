namespace Acquire.Formats.Workbooks;

/// <summary>How a cell looks; the numbers are places in <see cref="WorkbookStyles"/>.</summary>
internal enum CellStyle
{
    Plain = 0,
    Heading = 1,
    Time = 2,
    Density = 3,
    Deviation = 4,
    DeviationAction = 5,
    DeviationOut = 6,
    Title = 7,
}

namespace Acquire.Storage.Export.Xlsx;

/// <summary>A chart of one parameter of one process line: deviation against date, with limits.</summary>
/// <param name="Title">What it shows.</param>
/// <param name="Dates">Cells with the dates.</param>
/// <param name="Series">What is drawn.</param>
internal sealed record DeviationChart(string Title, string Dates, ImmutableArray<ChartSeries> Series);

/// <summary>A series of a chart.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Look">How it is drawn.</param>
/// <param name="NameCell">The cell that has the name.</param>
/// <param name="Values">Cells with the values.</param>
internal sealed record ChartSeries(string Name, SeriesLook Look, string NameCell, string Values);

/// <summary>How a series is drawn: colours differ in their marks too, limits in their dashes.</summary>
internal enum SeriesLook
{
    Red,
    Green,
    Blue,
    Black,
    ActionLimit,
    ControlLimit,
}

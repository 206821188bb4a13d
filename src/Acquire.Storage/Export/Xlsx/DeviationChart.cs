namespace Acquire.Storage.Export.Xlsx;

/// <summary>A chart of one parameter of one process line: deviation against date, with limits.</summary>
/// <param name="Title">What it shows.</param>
/// <param name="Unit">The unit of the parameter.</param>
/// <param name="Dates">Cells with the dates.</param>
/// <param name="Series">What is drawn.</param>
internal sealed record DeviationChart(string Title, string Unit, string Dates, ImmutableArray<ChartSeries> Series);

/// <summary>A series of a chart.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Look">How it is drawn.</param>
/// <param name="NameCell">The cell that has the name.</param>
/// <param name="Values">Cells with the values.</param>
internal sealed record ChartSeries(string Name, SeriesLook Look, string NameCell, string Values);

/// <summary>How a series is drawn: colours differ in their marks too, limits in their dashes.</summary>
/// <param name="Kind">What it shows.</param>
/// <param name="Channel">Of which channel; null for one number, or a limit, over all.</param>
internal readonly record struct SeriesLook(SeriesKind Kind, Channel? Channel)
{
    public bool IsLimit => Kind != SeriesKind.Deviation;
}

internal enum SeriesKind
{
    Deviation,
    ActionLimit,
    ControlLimit,
}

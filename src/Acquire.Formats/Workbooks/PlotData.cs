using Acquire.Formats.Strips;

namespace Acquire.Formats.Workbooks;

/// <summary>What the plots are drawn from: the newest strips of each process line, with the limits each was judged by.</summary>
internal sealed class PlotData
{
    /// <summary>How many strips of a line are plotted.</summary>
    public const int MostStrips = 500;

    /// <summary>How many process lines are plotted, those met last.</summary>
    public const int MostLines = 8;

    private readonly List<PlotGroup> _groups = [];

    public IReadOnlyList<PlotGroup> Groups => _groups;

    /// <summary>Whether something was left out for the sake of room.</summary>
    public bool IsCut { get; private set; }

    public void Add(StripExport export)
    {
        if (export.Parameters.All(p => p.Deviation is null))
        {
            return;
        }

        var (process, line) = (export.Strip.JudgedBy.Key, export.Strip.Tags.Line ?? "");
        var group = _groups.FirstOrDefault(g => g.Process == process && string.Equals(g.Line, line, StringComparison.OrdinalIgnoreCase));
        if (group is null)
        {
            group = new PlotGroup(process, line, []);
            _groups.Add(group);
            if (_groups.Count > MostLines)
            {
                _groups.RemoveAt(0);
                IsCut = true;
            }
        }

        group.Points.Enqueue(PlotPoint.Of(export));
        if (group.Points.Count > MostStrips)
        {
            _ = group.Points.Dequeue();
            IsCut = true;
        }
    }
}

/// <summary>The strips of one process line.</summary>
internal sealed record PlotGroup(string Process, string Line, Queue<PlotPoint> Points)
{
    /// <summary>The parameters that its strips have, with their channels.</summary>
    public IEnumerable<PlottedParameter> Parameters() => Points
        .SelectMany(p => p.Deviations)
        .GroupBy(d => d.Key)
        .Select(g => new PlottedParameter(g.Key, g.First().Name, g.First().Unit, [.. g.Select(d => d.Channel).Distinct().Order()]));
}

/// <summary>A parameter that strips of a process line have, with its channels.</summary>
internal sealed record PlottedParameter(string Key, string Name, string? Unit, ImmutableArray<Channel?> Channels);

/// <summary>A strip as it is plotted.</summary>
internal sealed record PlotPoint(DateTimeOffset At, ExportedParameter[] Deviations, ProcessSheet JudgedBy)
{
    public static PlotPoint Of(StripExport export) => new(
        export.Strip.Provenance.At,
        [.. export.Parameters.Where(p => p.Deviation is not null)],
        export.Strip.JudgedBy);

    public double? Deviation(string key, Channel? channel) =>
        Deviations.FirstOrDefault(d => d.Key == key && d.Channel == channel)?.Deviation;
}

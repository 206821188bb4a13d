namespace Acquire.Analysis.Control;

/// <summary>One series under watch: its detectors, and the strips that a closer look goes back to.</summary>
internal sealed class SeriesWatch
{
    private readonly List<(int Index, double Value, int Level)> _window = [];
    private DriftState _detectors;
    private string? _lot;
    private int _level;
    private int _count;
    private CloserLook? _look;

    public SeriesWatch(ImmutableArray<SeriesEntry> entries)
    {
        Entries = entries;
        LeastSigma = entries.IsEmpty ? 0 : Math.Sqrt(entries.Average(e => e.ReadingUncertainty * e.ReadingUncertainty));
        _detectors = DriftState.Begin(LeastSigma);
    }

    public ImmutableArray<SeriesEntry> Entries { get; }

    /// <summary>What readings alone scatter by.</summary>
    public double LeastSigma { get; }

    /// <summary>What was found, in the order in which it was noticed.</summary>
    public List<DriftAlarm> Alarms { get; } = [];

    /// <summary>The newest strip's index; −1 before any.</summary>
    public int Newest => _count - 1;

    /// <summary>The strips of the present level within the window, oldest first.</summary>
    public double[] Present => [.. _window.Where(w => w.Level == _level).Select(w => w.Value)];

    /// <summary>Takes its next strip.</summary>
    /// <returns>What rings; null for nothing.</returns>
    public DriftRing? Take()
    {
        var entry = Entries[_count];
        _look = null;
        if (_lot is not null && !Keys.Same(_lot, entry.Strip.Lot))
        {
            // The aims of a lot have an error of their own: its strips say nothing of a movement since the lot before.
            (_level, _detectors) = (_level + 1, _detectors.NewLevel());
        }

        (_lot, (_detectors, var ring)) = (entry.Strip.Lot, _detectors.Take(entry.Deviation));
        _window.Add((_count++, entry.Deviation, _level));
        if (_window.Count > CloserLook.Window)
        {
            _window.RemoveAt(0);
        }

        return ring;
    }

    /// <summary>A closer look at it as it stands.</summary>
    public CloserLook Look() => _look ??= CloserLook.Of(
        [.. _window.Where(w => w.Level != _level).GroupBy(w => w.Level).Select(g => g.Select(w => w.Value).ToArray())],
        Present, LeastSigma);

    /// <summary>Residuals about the levels, by strip, for holding series against each other.</summary>
    public Dictionary<Guid, double> Residuals() => _window.GroupBy(w => w.Level)
        .SelectMany(g => g.Select(w => (w.Index, Off: w.Value - g.Average(v => v.Value))))
        .ToDictionary(w => Entries[w.Index].Strip.StripId, w => w.Off);

    /// <summary>The place of a strip of the present level in the history.</summary>
    public int IndexOf(int place) => _window[_window.Count - Present.Length + place].Index;

    /// <summary>Begins a new level at a strip of the present one.</summary>
    public void BeginLevel(int place)
    {
        var from = _window.Count - Present.Length + place;
        for (var (i, next) = (from, _level + 1); i < _window.Count; i++)
        {
            _window[i] = _window[i] with { Level = next };
        }

        _level++;
        _look = null;
        _detectors = _detectors.Level([.. Present]);
    }

    /// <summary>The trade's notice: three moves one way (four strips of a level), that end farther from the aim than they began.</summary>
    public DriftAlarm? ThreeMoves()
    {
        if (Present is not [.., var a, var b, var c, var d])
        {
            return null;
        }

        var side = a < b && b < c && c < d ? Side.High : a > b && b > c && c > d ? Side.Low : Side.Neither;
        return side != Side.Neither && Math.Abs(d) > Math.Abs(a) && Math.Sign(d) == (int)side
            ? new DriftAlarm(DetectorKind.ThreeMoves, side, Newest, Newest - 3, Newest - 3, Newest - 3, a, d, DriftWeight.Notice) : null;
    }
}

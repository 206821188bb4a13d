namespace Acquire.Instruments.Learning;

/// <summary>One way to see the shown values on the captured lines.</summary>
/// <param name="Scanner">How numbers are written.</param>
/// <param name="Readings">The lines of each whole shown reading, in order.</param>
internal sealed record Interpretation(ValueScanner Scanner, ImmutableArray<ImmutableArray<ReadingLine>> Readings)
{
    public bool IsChannelPerLine => Readings[0].Length > 1;

    /// <summary>The channels in the order in which they come.</summary>
    public ImmutableArray<Channel> Order => [.. Readings[0].SelectMany(l => l.Values).Select(v => v.Channel).Distinct()];

    /// <summary>Tells two interpretations apart.</summary>
    public string Key => string.Join(
        '|', Readings.SelectMany(r => r).Select(l => $"{l.Index}:{string.Join(',', l.Values.Select(v => $"{v.Channel}@{v.Span.Start}"))}"));
}

/// <summary>A line that holds densities.</summary>
/// <param name="Index">Which of the captured lines.</param>
/// <param name="Values">Its densities from left to right.</param>
internal sealed record ReadingLine(int Index, string Text, ImmutableArray<(Channel Channel, ValueSpan Span)> Values)
{
    /// <summary>What stands before each density, and behind the last.</summary>
    public ImmutableArray<string> Gaps { get; init; } =
        [.. Values.Select((v, i) => Text[(i == 0 ? 0 : Values[i - 1].Span.End)..v.Span.Start]), Text[Values[^1].Span.End..]];
}

/// <summary>Looks for the shown readings as one line each, every channel in the same column of numbers.</summary>
internal static class WholeLineSearch
{
    private const int MostInterpretations = 64;

    public static IEnumerable<Interpretation> Find(LearningInput input, ImmutableArray<string> lines, ValueScanner scanner)
    {
        var shown = input.Shown.Where(s => s.IsWhole).ToList();
        var scans = lines.Select(l => scanner.Scan(l).ToImmutableArray()).ToList();
        // Counted from both ends: a number more on some lines, such as a date, shifts the columns on one side only.
        return From(fromLeft: true).Concat(From(fromLeft: false))
            .OfType<Interpretation>().DistinctBy(i => i.Key).Take(MostInterpretations);

        IEnumerable<Interpretation?> From(bool fromLeft) => Columns(shown[0], scans, scanner, fromLeft).Select(c => Follow(c, fromLeft));

        Interpretation? Follow((int Line, ImmutableArray<int> Columns) first, bool fromLeft)
        {
            var readings = ImmutableArray.CreateBuilder<ImmutableArray<ReadingLine>>();
            var at = first.Line;
            foreach (var reading in shown)
            {
                while (at < scans.Count && !Fits(reading, scans[at], scanner, first.Columns, fromLeft))
                {
                    at++;
                }

                if (at == scans.Count)
                {
                    return null;
                }

                var spans = first.Columns.Select((c, i) => (input.Channels[i], At(scans[at], c, fromLeft))).OrderBy(v => v.Item2.Start);
                readings.Add([new ReadingLine(at, lines[at], [.. spans])]);
                at++;
            }

            return new Interpretation(scanner, readings.ToImmutable());
        }
    }

    /// <summary>Every line and choice of columns that shows the reading.</summary>
    private static IEnumerable<(int Line, ImmutableArray<int> Columns)> Columns(
        ShownReading reading, List<ImmutableArray<ValueSpan>> scans, ValueScanner scanner, bool fromLeft)
    {
        foreach (var (line, spans) in scans.Index())
        {
            IEnumerable<ImmutableArray<int>> choices = [[]];
            foreach (var value in reading.Values)
            {
                choices = choices.SelectMany(chosen => Enumerable.Range(0, spans.Length)
                    .Where(c => !chosen.Contains(c) && scanner.Shows(At(spans, c, fromLeft).Value, value!.Value))
                        .Select(c => chosen.Add(c)));
            }

            foreach (var choice in choices)
            {
                yield return (line, choice);
            }
        }
    }

    private static bool Fits(
        ShownReading reading, ImmutableArray<ValueSpan> spans, ValueScanner scanner, ImmutableArray<int> columns, bool fromLeft) =>
        columns.Index().All(c => c.Item < spans.Length && scanner.Shows(At(spans, c.Item, fromLeft).Value, reading.Values[c.Index]!.Value));

    private static ValueSpan At(ImmutableArray<ValueSpan> spans, int column, bool fromLeft) =>
        fromLeft ? spans[column] : spans[^(column + 1)];
}

/// <summary>Looks for the shown readings as one line for each channel, always in the same order.</summary>
internal static class ChannelLineSearch
{
    public static IEnumerable<Interpretation> Find(LearningInput input, ImmutableArray<string> lines, ValueScanner scanner)
    {
        var shown = input.Shown.Where(s => s.IsWhole).ToList();
        var scans = lines.Select(l => scanner.Scan(l).ToList()).ToList();
        return input.Channels.Length < 2
            ? []
            : Orders([.. Enumerable.Range(0, input.Channels.Length)])
                .SelectMany(o => (IEnumerable<Interpretation?>)[Follow(o, fromLeft: true), Follow(o, fromLeft: false)])
                    .OfType<Interpretation>()
                    .DistinctBy(i => i.Key);

        Interpretation? Follow(ImmutableArray<int> order, bool fromLeft)
        {
            var readings = ImmutableArray.CreateBuilder<ImmutableArray<ReadingLine>>();
            var at = 0;
            foreach (var reading in shown)
            {
                var taken = ImmutableArray.CreateBuilder<ReadingLine>();
                foreach (var channel in order)
                {
                    var value = reading.Values[channel]!.Value;
                    while (at < scans.Count && !scans[at].Any(s => scanner.Shows(s.Value, value)))
                    {
                        at++;
                    }

                    if (at == scans.Count)
                    {
                        return null;
                    }

                    taken.Add(new ReadingLine(at, lines[at], [(input.Channels[channel],
                        fromLeft
                            ? scans[at].First(s => scanner.Shows(s.Value, value))
                            : scans[at].Last(s => scanner.Shows(s.Value, value)))]));
                    at++;
                }

                readings.Add(taken.ToImmutable());
            }

            return new Interpretation(scanner, readings.ToImmutable());
        }
    }

    private static IEnumerable<ImmutableArray<int>> Orders(ImmutableArray<int> channels) =>
        channels.Length == 0
            ? [[]]
            : channels.SelectMany(first => Orders(channels.Remove(first)).Select(rest => rest.Insert(0, first)));
}

namespace Acquire.Instruments.Learning;

/// <summary>Looks for the shown readings as one line each, every channel in the same column of numbers.</summary>
internal static class WholeLineSearch
{
    private const int MostInterpretations = 64;

    public static IEnumerable<Interpretation> Find(LearningInput input, ImmutableArray<string> lines, ValueScanner scanner)
    {
        var shown = input.Shown.Where(s => s.IsWhole).ToList();
        var scans = lines.Select(scanner.Scan).ToList();
        return From(fromLeft: true).Concat(From(fromLeft: false))
            .OfType<Interpretation>().DistinctBy(i => i.Key).Take(MostInterpretations);

        IEnumerable<Interpretation?> From(bool fromLeft) => Columns(shown[0], scans, fromLeft).Select(c => Follow(c, fromLeft));

        Interpretation? Follow((int Line, ImmutableArray<int> Columns) first, bool fromLeft)
        {
            var readings = ImmutableArray.CreateBuilder<ImmutableArray<ReadingLine>>();
            var at = first.Line;
            foreach (var reading in shown)
            {
                while (at < scans.Count && !Fits(reading, scans[at], first.Columns, fromLeft))
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
        ShownReading reading, List<ImmutableArray<ValueSpan>> scans, bool fromLeft)
    {
        foreach (var (line, spans) in scans.Index())
        {
            IEnumerable<ImmutableArray<int>> choices = [[]];
            foreach (var value in reading.Values)
            {
                choices = choices.SelectMany(chosen => Enumerable.Range(0, spans.Length)
                    .Where(c => !chosen.Contains(c) && At(spans, c, fromLeft).Value == value!.Value.Value).Select(c => chosen.Add(c)));
            }

            foreach (var choice in choices)
            {
                yield return (line, choice);
            }
        }
    }

    private static bool Fits(ShownReading reading, ImmutableArray<ValueSpan> spans, ImmutableArray<int> columns, bool fromLeft) =>
        columns.Select((c, i) => c < spans.Length && At(spans, c, fromLeft).Value == reading.Values[i]!.Value.Value).All(fits => fits);

    private static ValueSpan At(ImmutableArray<ValueSpan> spans, int column, bool fromLeft) =>
        fromLeft ? spans[column] : spans[^(column + 1)];
}

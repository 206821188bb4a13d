namespace Acquire.Instruments.Learning;

/// <summary>Looks for the shown readings as one line for each channel, always in the same order.</summary>
internal static class ChannelLineSearch
{
    public static IEnumerable<Interpretation> Find(LearningInput input, ImmutableArray<string> lines, ValueScanner scanner)
    {
        var shown = input.Shown.Where(s => s.IsWhole).ToList();
        var scans = lines.Select(scanner.Scan).ToList();
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
                    var value = reading.Values[channel]!.Value.Value;
                    while (at < scans.Count && scans[at].All(s => s.Value != value))
                    {
                        at++;
                    }

                    if (at == scans.Count)
                    {
                        return null;
                    }

                    taken.Add(new ReadingLine(at, lines[at], [(input.Channels[channel],
                        fromLeft ? scans[at].First(s => s.Value == value) : scans[at].Last(s => s.Value == value))]));
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

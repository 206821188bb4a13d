namespace KillTrials;

/// <summary>
/// Kills the program while it reads strips and stores them, at random instants from its start to after its end, and goes on with the
/// session each time. Each reading is sent once, so each may be stored once only.
/// </summary>
public sealed class ReadingTrials(string folder, int seed)
{
    private const string Lot = "4410";
    private const int Patches = 5;
    private const int ReadsPerPatch = 20;

    private readonly Random _dice = new(seed);
    private readonly HashSet<string> _acknowledged = [];
    private readonly string _data = Path.Combine(folder, "data");
    private readonly string _port = Path.Combine(folder, "densitometer");

    private TimeSpan _usual;

    private string Database => Path.Combine(_data, "acquire.db");

    /// <summary>Runs the program at least so many times.</summary>
    public async Task<Tally> RunAsync(int runs, CancellationToken cancellationToken)
    {
        var tally = new Tally("reading");
        await PrepareAsync(cancellationToken);
        using var instrument =
            VictimProgram.Start("python3", [StoreLook.Script("densitometer.py"), _port, seed.ToString(CultureInfo.InvariantCulture), "0"]);
        try
        {
            while (!File.Exists(_port))
            {
                if (instrument.HasExited)
                {
                    throw new InvalidOperationException(await instrument.StandardError.ReadToEndAsync(cancellationToken));
                }

                await Task.Delay(TimeSpan.FromMilliseconds(5), TimeProvider.System, cancellationToken);
            }

            var isOpen = false;
            while (!tally.IsEnough(runs))
            {
                var look = await OnceAsync(isOpen, tally, cancellationToken);
                isOpen = look.Sessions.Any(s => s.End is null);
            }
        }
        finally
        {
            instrument.Kill();
        }

        return tally;
    }

    private static string Key(string densities) => string.Join(' ', densities.Split(' ', StringSplitOptions.RemoveEmptyEntries));

    private async Task PrepareAsync(CancellationToken cancellationToken)
    {
        await DoAsync("lot", "add", Lot, "--process", "c41");
        await DoAsync(
            "lot", "reference", Lot, "--value", "dmin 0.26 0.62 0.80", "--value", "ld 0.45 0.86 1.04", "--value", "hd 1.26 1.74 2.00",
            "--value", "dmax 2.12 2.58 2.92", "--value", "yellow 0.37 0.88 2.72");
        await DoAsync("lot", "stock", Lot, "add", "500");
        await DoAsync("line", "add", "dip tank", "--process", "c41");
        await DoAsync("solution", "mix", "dev 1", "1L", "--process", "c41");
        await DoAsync("bottle", "fill", "D1");

        async Task DoAsync(params string[] arguments)
        {
            var run = await VictimProgram.RunAsync(_data, null, cancellationToken, arguments);
            _usual = run.Took;
            if (run.Code != 0)
            {
                throw new InvalidOperationException(string.Join('\n', run.Error));
            }
        }
    }

    /// <summary>
    /// A fifth while the program starts, a fifth after all was read, while the strip is stored and judged, the rest at any read. Counted by
    /// what the program has shown, so that a slow machine is killed at the same places as a fast one.
    /// </summary>
    private KillAt Instant() => _dice.Next(5) switch
    {
        0 => KillAt.After(_usual * _dice.NextDouble()),
        1 => new KillAt("All patches are read", 1, TimeSpan.FromMilliseconds(_dice.NextDouble() * 60)),
        _ => new KillAt("  taken: ", _dice.Next(1, 60), TimeSpan.FromMilliseconds(_dice.NextDouble() * 10)),
    };

    private async Task<StoreLook> OnceAsync(bool isOpen, Tally tally, CancellationToken cancellationToken)
    {
        var reads = ReadsPerPatch.ToString(CultureInfo.InvariantCulture);
        string[] arguments = isOpen
            ? ["resume", "--no-bell"]
            : ["read", "--no-bell", "--port", _port, "--profile", "labelled-line", "--lot", Lot, "--reads", reads];
        var run = await VictimProgram.RunAsync(_data, Instant(), cancellationToken, arguments);
        tally.Runs++;
        tally.Killed += run.Code is null ? 1 : 0;
        tally.Demand(run.Code is null or 0 or 1, $"exit code {run.Code}: {string.Join(" / ", run.Error.TakeLast(3))}");
        foreach (var taken in run.Error.Where(l => l.StartsWith("  taken: ", StringComparison.Ordinal)))
        {
            tally.Acknowledged++;
            tally.Demand(_acknowledged.Add(Key(taken[(taken.LastIndexOf(": ", StringComparison.Ordinal) + 2)..])), $"shown twice: {taken}");
        }

        var look = await StoreLook.AtAsync(Database, tally, cancellationToken);
        Compare(look, tally);
        var verdicts = look.Sessions.Count(s => s.Strips.Length > 0);
        tally.Demand(run.Code is null || verdicts > tally.Finished, "ended well and stored no strip");
        tally.Finished = verdicts;
        return look;
    }

    private void Compare(StoreLook look, Tally tally)
    {
        var stored = look.Sessions.SelectMany(s => s.Lines).Select(Key).ToList();
        var missing = _acknowledged.Except(stored).ToList();
        tally.Demand(missing.Count == 0, $"{missing.Count} acknowledged readings are lost, such as {missing.FirstOrDefault()}");
        tally.Demand(stored.Distinct().Count() == stored.Count, "a reading is stored twice");
        foreach (var session in look.Sessions)
        {
            tally.Demand(
                session.Lines.SequenceEqual(session.Journal.Where(l => IsReading(l))),
                $"the lines of session {session.Id} are not those of its journal");
            tally.Demand(session.Strips.Length <= 1, $"session {session.Id} gave {session.Strips.Length} strips");
            tally.Demand(
                (session.End == "completed") == (session.Strips.Length == 1),
                $"session {session.Id} has end '{session.End}' and {session.Strips.Length} strips");
            tally.Demand(
                session.Booked.All(n => n == session.Strips.Length),
                $"session {session.Id} gave {session.Strips.Length} strips, and the books count {string.Join(" and ", session.Booked)} "
                + $"of them as film and as stock");
            tally.Demand(
                session.Strips.All(s => s.SequenceEqual(session.Lines.Take(Patches * ReadsPerPatch))),
                $"the strip of session {session.Id} is not made of its lines in their order");
        }
    }

    /// <summary>The rest of a reading whose beginning another link got fits nothing and is no reading.</summary>
    private static bool IsReading(string line) =>
        line is ['R', ' ', ..] && line.EndsWith("B 2.10", StringComparison.Ordinal) && line.Length == 20;
}

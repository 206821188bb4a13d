using System.Text.Json.Nodes;

namespace TestRun;

/// <summary>How a test ended.</summary>
internal enum Outcome
{
    Passed,
    Failed,
    Skipped,
}

/// <summary>One test that ended, or that was cut short.</summary>
internal sealed record TestResult(string Name, Outcome Outcome, double Seconds, bool IsMarkedSlow)
{
    /// <summary>
    /// Tests of more than two seconds are to carry the trait; on a busy machine only what takes many times as long is surely one, in
    /// seconds.
    /// </summary>
    public const double SlowBeyondDoubt = 15;

    public override string ToString() =>
        FormattableString.Invariant($"{Seconds,9:0.000} {(IsMarkedSlow ? "slow" : "    ")} {Outcome,-7} {Name}");
}

/// <summary>
/// What a test program has told so far, read from the runner's JSON messages. Results that came stay, however the program ends.
/// </summary>
internal sealed class SuiteResults(string name, TimeProvider time, TextWriter output)
{
    private static readonly string[] FaultLists = ["ExceptionTypes", "Messages", "StackTraces"];

    private readonly Lock _gate = new();
    private readonly Dictionary<string, (string Name, bool IsSlow, long Since)> _running = [];
    private readonly HashSet<string> _slowCases = [];
    private readonly List<TestResult> _ended = [];
    private long _lastSign = time.GetTimestamp();
    private int _casesLeft;

    public IReadOnlyList<TestResult> Ended => _ended;

    /// <summary>Since a test ended, or wrote a line while it runs.</summary>
    public TimeSpan SinceLastSign => time.GetElapsedTime(Volatile.Read(ref _lastSign));

    /// <summary>Takes a line of the program's output; what is no message of the runner is passed on.</summary>
    public void Take(string line)
    {
        lock (_gate)
        {
            if (Message(line) is { } message)
            {
                Take(message, (string?)message["$type"] ?? "");
            }
            else if (line.Length > 0)
            {
                output.WriteLine($"{name}: {line}");
            }
        }
    }

    /// <summary>A failure of the program as a whole.</summary>
    public void Fail(string why) => Add(new TestResult($"{name} {why}", Outcome.Failed, 0, IsMarkedSlow: false), "");

    /// <summary>Closes the books: tests that had begun and not ended are named, and have failed.</summary>
    public void End(string? killed, int exitCode, TimeSpan took)
    {
        lock (_gate)
        {
            var cut = _running.Values.OrderBy(r => r.Since).ToList();
            var how = killed is null ? $"ended with exit code {exitCode}" : $"was killed: {killed}";
            foreach (var test in cut)
            {
                var seconds = time.GetElapsedTime(test.Since).TotalSeconds;
                Add(new TestResult(test.Name, Outcome.Failed, seconds, test.IsSlow), $"had run for {seconds:0.0} s when {name} {how}");
            }

            if (cut.Count == 0 && (killed is not null || (exitCode != 0 && _ended.TrueForAll(r => r.Outcome != Outcome.Failed))))
            {
                Fail(how);
            }

            if (_casesLeft > cut.Count)
            {
                output.WriteLine($"{name} {how}; {_casesLeft - cut.Count} tests were not reached.");
            }

            int Count(Outcome outcome) => _ended.Count(r => r.Outcome == outcome);
            output.WriteLine(
                $"== {name}: {Count(Outcome.Passed)} passed, {Count(Outcome.Failed)} failed, {Count(Outcome.Skipped)} skipped in "
                + $"{took.TotalSeconds:0.0} s");
        }
    }

    private void Take(JsonObject message, string type)
    {
        switch (type)
        {
            case "discovery-complete":
                _casesLeft = (int?)message["TestCasesToRun"] ?? 0;
                break;
            case "test-case-starting" when IsSlow(message["Traits"]):
                _ = _slowCases.Add(Text(message, "TestCaseUniqueID"));
                break;
            case "test-case-finished":
                _casesLeft--;
                break;
            case "test-starting":
                _running[Text(message, "TestUniqueID")] =
                    (Text(message, "TestDisplayName"), _slowCases.Contains(Text(message, "TestCaseUniqueID")), time.GetTimestamp());
                break;
            case "test-output":
                Volatile.Write(ref _lastSign, time.GetTimestamp());
                break;
            case "test-passed":
                Close(message, Outcome.Passed);
                break;
            case "test-failed":
                Close(message, Outcome.Failed, Fault(message));
                break;
            case "test-skipped":
                Close(message, Outcome.Skipped, Text(message, "Reason"));
                break;
            default:
                // Setting up or clearing away failed, or the runner itself: no test failed, yet all is not well.
                if (message["Messages"] is JsonArray)
                {
                    Fail($"{type} {Text(message, "TestClassName")}{Environment.NewLine}{Fault(message)}");
                }

                break;
        }
    }

    private void Close(JsonObject message, Outcome outcome, string text = "")
    {
        if (_running.Remove(Text(message, "TestUniqueID"), out var test))
        {
            Add(new TestResult(test.Name, outcome, (double?)message["ExecutionTime"] ?? 0, test.IsSlow), text);
        }
    }

    private void Add(TestResult result, string text)
    {
        _ended.Add(result);
        Volatile.Write(ref _lastSign, time.GetTimestamp());
        if (result.Outcome != Outcome.Passed)
        {
            var word = result.Outcome == Outcome.Failed ? "FAILED" : "skipped";
            output.WriteLine($"{word} {result.Name}\n  {text.ReplaceLineEndings("\n  ")}");
        }
    }

    private static string Fault(JsonObject message) => string.Join(
        '\n',
        FaultLists
            .SelectMany(list => (message[list] as JsonArray ?? []).Select(v => (string?)v))
            .Append((string?)message["Output"])
            .Where(t => !string.IsNullOrEmpty(t)));

    private static bool IsSlow(JsonNode? traits) => (traits?["speed"] as JsonArray)?.Any(s => (string?)s == "slow") == true;

    private static string Text(JsonObject message, string property) => (string?)message[property] ?? "";

    private static JsonObject? Message(string line)
    {
        if (!line.StartsWith("{\"$type\":", StringComparison.Ordinal))
        {
            return null;
        }

        try
        {
            return JsonNode.Parse(line) as JsonObject;
        }
        catch (System.Text.Json.JsonException)
        {
            // A line that a killed program did not finish.
            return null;
        }
    }
}

using Acquire.Storage.Records;

namespace Acquire.Commands;

/// <summary>The options that choose strips.</summary>
internal sealed class StripFilterOptions
{
    private readonly Option<string?> _lot = new("--lot") { Description = "Only strips of this lot.", HelpName = "CODE" };
    private readonly Option<string?> _since =
        new("--since") { Description = "Only strips read on this day or later.", HelpName = "YYYY-MM-DD" };
    private readonly Option<int?> _last = new("--last") { Description = "Only the last so many.", HelpName = "N" };

    public void AddTo(Command command)
    {
        command.Options.Add(_lot);
        command.Options.Add(_since);
        command.Options.Add(_last);
    }

    public StripFilter Of(ParseResult parsed)
    {
        if (parsed.GetValue(_last) is < 1)
        {
            throw new BenchException("--last takes a whole number from 1.");
        }

        return new StripFilter
        {
            LotCode = parsed.GetValue(_lot),
            From = parsed.GetValue(_since) is { } since ? DayText.Start(since) : null,
            Last = parsed.GetValue(_last),
        };
    }
}

/// <summary>A day as an option gives it: <c>2027-06-30</c>. What is none is refused with a <see cref="BenchException"/>.</summary>
internal static class DayText
{
    public static DateOnly Day(string text) => DateOnly.FromDateTime(Start(text).DateTime);

    /// <summary>Its beginning by the local clock.</summary>
    public static DateTimeOffset Start(string text) =>
        DateTimeOffset.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.AssumeLocal, out var start)
            ? start
            : throw new BenchException($"'{text}' is no day; expected year, month and day as in 2027-06-30.");
}

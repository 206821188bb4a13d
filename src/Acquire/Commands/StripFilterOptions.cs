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

        DateTimeOffset? since = parsed.GetValue(_since) is not { } text ? null
            : DateTimeOffset.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.AssumeLocal, out var day) ? day
            : throw new BenchException($"'{text}' is no day; expected year, month and day as in 2027-06-30.");
        return new StripFilter { LotCode = parsed.GetValue(_lot), From = since, Last = parsed.GetValue(_last) };
    }
}

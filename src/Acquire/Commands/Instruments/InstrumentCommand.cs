using Acquire.Bench.Instruments;
using Acquire.Rendering.Instruments;

namespace Acquire.Commands.Instruments;

/// <summary><c>acquire instrument</c>: the densitometers of the house.</summary>
internal static class InstrumentCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("instrument", "The densitometers of the house. What is read, checked and tested belongs to one of them.")
        {
            BuildAdd(surroundings),
            BuildList(surroundings),
            BuildShow(surroundings),
            BuildSet(surroundings),
            BuildRetire(surroundings),
            InstrumentTryCommand.Build(surroundings),
        };

    private static Command BuildAdd(Surroundings surroundings) => Changes(
        new Command("add", "Add an instrument, e.g. acquire instrument add bench --port /dev/serial/by-id/… --profile labelled-line"),
        surroundings,
        "The name it is to have.",
        (book, name, details, by, reason, cancellationToken) => book.AddAsync(name, details, by, reason, cancellationToken));

    private static Command BuildSet(Surroundings surroundings) => Changes(
        new Command("set", "Change what is said of an instrument. An empty text takes away what was said; the history keeps it."),
        surroundings,
        "The instrument.",
        (book, name, details, by, reason, cancellationToken) => book.SetAsync(name, details, by, reason, cancellationToken));

    private static Command BuildRetire(Surroundings surroundings)
    {
        var name = Name("The instrument.");
        var back = new Option<bool>("--back") { Description = "Take it into use again." };
        var (by, reason, json) = (Common.By(), Reason(), Common.Json());
        var command = new Command("retire", "Take an instrument out of use. What was read with it stays, and so does its name.")
        {
            name, back, by, reason, json,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var changed = await InstrumentOptions.Book(parsed, store, surroundings).RetireAsync(
                parsed.GetRequiredValue(name), parsed.GetValue(back), parsed.GetValue(by) ?? surroundings.User, parsed.GetValue(reason),
                cancellationToken);
            return InstrumentReport.WriteChange(surroundings, changed, parsed.GetValue(json));
        });
        return command;
    }

    private static Command BuildList(Surroundings surroundings) => Common.Shows(
        new Command("list", "List the instruments, those in use first."),
        surroundings,
        (parsed, store, cancellationToken) =>
            InstrumentList.OfAsync(store, InstrumentOptions.Book(parsed, store, surroundings), cancellationToken),
        InstrumentReport.WriteList);

    private static Command BuildShow(Surroundings surroundings)
    {
        var name = Name("The instrument.");
        return Common.Shows(
            new Command(
                "show", "Show an instrument: what is said of it, how far it can be trusted, and the history of its changes.") { name },
            surroundings,
            (parsed, store, cancellationToken) => InstrumentOverview.OfAsync(
                store, InstrumentOptions.Book(parsed, store, surroundings), parsed.GetRequiredValue(name), surroundings.Time,
                cancellationToken),
            InstrumentReport.WriteOverview);
    }

    private static Command Changes(
        Command command, Surroundings surroundings, string which,
        Func<InstrumentBook, string, InstrumentDetails, string, string?, CancellationToken, Task<ChangedInstrument>> change)
    {
        var name = Name(which);
        var details = new DetailOptions();
        var (by, reason, json) = (Common.By(), Reason(), Common.Json());
        command.Arguments.Add(name);
        details.AddTo(command);
        foreach (var option in (Option[])[by, reason, json])
        {
            command.Options.Add(option);
        }

        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var changed = await change(
                InstrumentOptions.Book(parsed, store, surroundings), parsed.GetRequiredValue(name), details.Of(parsed),
                parsed.GetValue(by) ?? surroundings.User, parsed.GetValue(reason), cancellationToken);
            return InstrumentReport.WriteChange(surroundings, changed, parsed.GetValue(json));
        });
        return command;
    }

    private static Argument<string> Name(string which) => Given.Argument<string>("name", "NAME", which);

    private static Option<string?> Reason() => Given.Option<string?>("--reason", "TEXT", "Why; kept in the history.");
}

/// <summary>What can be said of an instrument.</summary>
internal sealed class DetailOptions
{
    private readonly Option<string?> _port = Given.Option<string?>(
        "--port", "PORT", "Its port: a path such as /dev/serial/by-id/…, which stays the same after replugging, COM3, tcp:HOST:PORT, or "
            + "rfc2217:HOST:PORT. 'acquire ports' lists those there are.");

    private readonly Option<string?> _profile = Given.Option<string?>(
        "--profile", "PROFILE", "How it writes its readings: a name that 'acquire profile list' shows, or a file.");

    private readonly Option<int?> _baud = Given.Option<int?>(
        "--baud", "N", "Bits per second, where it is set otherwise than its profile says; 0 for the profile's.");

    private readonly Option<double?> _step = Given.Option<double?>(
        "--display-step", "D", "One unit of the last decimal that it shows, in density, such as 0.01; 0 for not known.");

    private readonly Option<string?> _filters =
        Given.Option<string?>("--filters", "TEXT", "Its filters or its status, such as \"status M\".");

    private readonly Option<string?> _serial = Given.Option<string?>("--serial-number", "TEXT", "Its serial number.");

    private readonly Option<string?> _notes = Given.Option<string?>("--notes", "TEXT", "What else is to be known of it.");

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[_port, _profile, _baud, _step, _filters, _serial, _notes])
        {
            command.Options.Add(option);
        }
    }

    public InstrumentDetails Of(ParseResult parsed) => new(
        parsed.GetValue(_port), parsed.GetValue(_profile), parsed.GetValue(_baud), parsed.GetValue(_step), parsed.GetValue(_filters),
        parsed.GetValue(_serial), parsed.GetValue(_notes));
}

using Acquire.Bench.Instruments;
using Acquire.Bench.Readings;
using Acquire.Commands.Instruments;
using Acquire.Commands.Readings;

namespace Acquire.Commands.Lots;

/// <summary>
/// <c>acquire lot reference</c>: reads the maker's reference strip from the instrument, or takes values that a person entered.
/// </summary>
internal static class LotReferenceCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var code = Common.LotCode();
        var options = new ReadingOptions(surroundings);
        var value = new Option<string[]>("--value")
        {
            Description = "Enter the densities of one patch instead of reading them; once per patch, e.g. \"ld 0.46 0.84 1.04\".",
            HelpName = "\"PATCH R G B\"",
        };
        var reason = new Option<string>("--reason")
        {
            Description = "Why the reference is read; kept with it.",
            HelpName = "TEXT",
            DefaultValueFactory = _ => "reference strip read",
        };
        var origin = new OriginOptions(options);
        var command = new Command(
            "reference", "Read the reference strip of a lot, or enter its densities; the aims follow from it.") { code, value, reason };
        origin.AddTo(command);
        options.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var entered = parsed.GetValue(value) ?? [];
            var (lotCode, why) = (parsed.GetRequiredValue(code), parsed.GetRequiredValue(reason));
            switch (entered.Length, options.Instrument.Port(parsed), options.Instrument.Profile(parsed))
            {
                case (0, _, _):
                    origin.RefuseForReading(parsed);
                    return await options.ReadAsync(
                        parsed,
                        async place => await place.Desk.ReadAsync(
                            new ReferenceRequest(lotCode, why), await options.TermsAsync(parsed, place, cancellationToken),
                            place.TakeSeat(), cancellationToken),
                        cancellationToken);
                case (> 0, null, null):
                    await using (var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken))
                    {
                        var book = InstrumentOptions.Book(parsed, store, surroundings);
                        var request = new ReferenceRequest(lotCode, why) { Origin = await origin.OfAsync(parsed, book, cancellationToken) };
                        var entry = new ReferenceEntry(store, Common.Lots(parsed, store, surroundings), surroundings.Time);
                        return options.Kept(
                            parsed,
                            await entry.EnterAsync(request, entered, options.By(parsed), cancellationToken));
                    }

                default:
                    throw new BenchException(
                        "--port and --profile are for reading the strip, --value is for entering it: leave one of them out.");
            }
        });
        return command;
    }
}

/// <summary>How entered reference values came about, since their aims are no better known than that.</summary>
internal sealed class OriginOptions(ReadingOptions reading)
{
    private readonly Option<bool> _fromList = new("--from-list")
    {
        Description = "With --value: the values are of the maker's list, read by nobody here; --uncertainty says how well they are known.",
    };

    private readonly Option<double?> _uncertainty = Given.Option<double?>(
        "--uncertainty", "U", "With --from-list: standard uncertainty of each value, in density; half of a ± at 95 %.");

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[_fromList, _uncertainty])
        {
            command.Options.Add(option);
        }
    }

    /// <summary>What the user says of entered values; null for nothing.</summary>
    /// <exception cref="BenchException">What is said contradicts itself.</exception>
    public async Task<ReferenceOrigin?> OfAsync(ParseResult parsed, InstrumentBook book, CancellationToken cancellationToken)
    {
        var said = (parsed.GetValue(_fromList), parsed.GetValue(_uncertainty), reading.ReadsSaid(parsed), reading.Instrument.Name(parsed));
        return said switch
        {
            (true, { } uncertainty, null, null) => ReferenceOrigin.FromList(uncertainty),
            (true, null, null, null) => throw new BenchException(
                "--from-list needs --uncertainty U, the standard uncertainty of each value in density, such as 0.01: "
                + "half of what the list gives as ± at 95 %."),
            (true, _, _, _) =>
                throw new BenchException("Values of the maker's list were read by nobody: leave --reads and --instrument out."),
            (false, not null, _, _) => throw new BenchException(
                "--uncertainty goes with --from-list; for values that were read say --reads N and --instrument NAME."),
            (false, null, null, null) => null,
            // Who names the instrument and no number entered what the display showed once.
            (_, _, var reads, null) => ReferenceOrigin.Read(reads ?? 1),
            (_, _, var reads, { } name) => await OfInstrumentAsync(reads ?? 1, new InstrumentChoice(name)),
        };

        async Task<ReferenceOrigin> OfInstrumentAsync(int reads, InstrumentChoice choice)
        {
            var (name, profile) = await book.NamedAsync(choice, cancellationToken);
            return ReferenceOrigin.Read(reads, profile.Name, name);
        }
    }

    /// <exception cref="BenchException">A strip that is read at the instrument tells all that by itself.</exception>
    public void RefuseForReading(ParseResult parsed)
    {
        if (parsed.GetValue(_fromList) || parsed.GetValue(_uncertainty) is not null)
        {
            throw new BenchException("--from-list and --uncertainty go with --value; a strip that is read needs none of them.");
        }
    }
}

/// <summary><c>acquire lot recheck</c>: reads the reference strip again, to see whether the instrument has moved.</summary>
internal static class LotRecheckCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var code = Common.LotCode();
        var options = new ReadingOptions(surroundings);
        var command = new Command(
            "recheck",
            "Read the reference strip again and hold it against its first readings; without --instrument, "
            + "--port or --profile, show what was read. The aims stay.")
        {
            code,
        };
        options.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var lot = parsed.GetRequiredValue(code);
            if (options.Instrument.IsSaid(parsed))
            {
                return await options.ReadAsync(
                    parsed,
                    async place => await place.Desk.ReadAsync(
                        new RecheckRequest(lot), await options.TermsAsync(parsed, place, cancellationToken), place.TakeSeat(),
                        cancellationToken),
                    cancellationToken);
            }

            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            return options.Kept(
                parsed, await new Rechecks(store, Common.Lots(parsed, store, surroundings)).ReviewAsync(lot, cancellationToken));
        });
        return command;
    }
}

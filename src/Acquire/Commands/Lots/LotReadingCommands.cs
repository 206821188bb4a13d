using Acquire.Bench.Readings;
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
            switch (entered.Length, options.Port(parsed), options.Profile(parsed))
            {
                case (0, { }, { }):
                    origin.RefuseForReading(parsed);
                    var terms = options.Terms(parsed);
                    return await options.ReadAsync(
                        parsed,
                        place => place.Desk.ReadAsync(new ReferenceRequest(lotCode, why), terms, place.Seat, cancellationToken),
                        cancellationToken);
                case (> 0, null, null):
                    var request = new ReferenceRequest(lotCode, why) { Origin = origin.Of(parsed) };
                    await using (var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken))
                    {
                        var entry = new ReferenceEntry(store, Common.Lots(parsed, store, surroundings), surroundings.Time);
                        return options.Kept(
                            parsed,
                            await entry.EnterAsync(request, entered, options.By(parsed), cancellationToken));
                    }

                default:
                    throw new BenchException("Give either --port and --profile to read the strip, or --value once per patch to enter it.");
            }
        });
        return command;
    }
}

/// <summary>How entered reference values came about, since their aims are no better known than that.</summary>
internal sealed class OriginOptions(ReadingOptions reading)
{
    private readonly Option<string?> _instrument = Given.Option<string?>(
        "--instrument", "PROFILE", "With --value: the device profile of the instrument the values were read with; --reads says how often.");

    private readonly Option<bool> _fromList = new("--from-list")
    {
        Description = "With --value: the values are of the maker's list, read by nobody here; --uncertainty says how well they are known.",
    };

    private readonly Option<double?> _uncertainty = Given.Option<double?>(
        "--uncertainty", "U", "With --from-list: standard uncertainty of each value, in density; half of a ± at 95 %.");

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[_instrument, _fromList, _uncertainty])
        {
            command.Options.Add(option);
        }
    }

    /// <summary>What the user says of entered values; null for nothing.</summary>
    /// <exception cref="BenchException">What is said contradicts itself.</exception>
    public ReferenceOrigin? Of(ParseResult parsed) =>
        (parsed.GetValue(_fromList), parsed.GetValue(_uncertainty), reading.ReadsSaid(parsed), parsed.GetValue(_instrument)) switch
        {
            (true, { } uncertainty, null, null) => ReferenceOrigin.FromList(uncertainty),
            (true, null, null, null) => throw new BenchException(
                "--from-list needs --uncertainty U, the standard uncertainty of each value in density, such as 0.01: "
                + "half of what the list gives as ± at 95 %."),
            (true, _, _, _) =>
                throw new BenchException("Values of the maker's list were read by nobody: leave --reads and --instrument out."),
            (false, not null, _, _) => throw new BenchException(
                "--uncertainty goes with --from-list; for values that were read say --reads N and --instrument PROFILE."),
            (false, null, null, null) => null,
            // Who names the instrument and no number entered what the display showed once.
            var (_, _, reads, profile) => ReferenceOrigin.Read(
                reads ?? 1, profile is null ? null : Common.Profiles(parsed).Find(profile).Name),
        };

    /// <exception cref="BenchException">A strip that is read at the instrument tells all that by itself.</exception>
    public void RefuseForReading(ParseResult parsed)
    {
        if (parsed.GetValue(_fromList) || parsed.GetValue(_uncertainty) is not null || parsed.GetValue(_instrument) is not null)
        {
            throw new BenchException(
                "--instrument, --from-list and --uncertainty go with --value; a strip that is read needs none of them.");
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
            "Read the reference strip again and hold it against its first readings; without --port, show what was read. The aims stay.")
        {
            code,
        };
        options.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var lot = parsed.GetRequiredValue(code);
            switch (options.Port(parsed), options.Profile(parsed))
            {
                case (null, null):
                    await using (var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken))
                    {
                        return options.Kept(
                            parsed,
                            await new Rechecks(store, Common.Lots(parsed, store, surroundings)).ReviewAsync(lot, cancellationToken));
                    }

                case ({ }, { }):
                    var terms = options.Terms(parsed);
                    return await options.ReadAsync(
                        parsed,
                        place => place.Desk.ReadAsync(new RecheckRequest(lot), terms, place.Seat, cancellationToken),
                        cancellationToken);
                default:
                    throw new BenchException(
                        "Give both --port and --profile to read the reference strip again, or neither to show what was read.");
            }
        });
        return command;
    }
}

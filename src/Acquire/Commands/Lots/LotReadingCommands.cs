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
        var command = new Command(
            "reference", "Read the reference strip of a lot, or enter its densities; the aims follow from it.") { code, value, reason };
        options.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var entered = parsed.GetValue(value) ?? [];
            var (lotCode, why) = (parsed.GetRequiredValue(code), parsed.GetRequiredValue(reason));
            switch (entered.Length, options.Port(parsed), options.Profile(parsed))
            {
                case (0, { }, { }):
                    var terms = options.Terms(parsed);
                    return await options.ReadAsync(
                        parsed,
                        place => place.Desk.ReadAsync(new ReferenceRequest(lotCode, why), terms, place.Seat, cancellationToken),
                        cancellationToken);
                case (> 0, null, null):
                    await using (var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken))
                    {
                        var entry = new ReferenceEntry(store, Common.Lots(parsed, store, surroundings), surroundings.Time);
                        return options.Kept(
                            parsed,
                            await entry.EnterAsync(new ReferenceRequest(lotCode, why), entered, options.By(parsed), cancellationToken));
                    }

                default:
                    throw new BenchException("Give either --port and --profile to read the strip, or --value once per patch to enter it.");
            }
        });
        return command;
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

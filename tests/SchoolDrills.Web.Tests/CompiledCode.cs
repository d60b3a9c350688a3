using System.Buffers.Binary;
using System.Reflection;
using System.Reflection.Emit;

namespace SchoolDrills.Web.Tests;

/// <summary>One step of a compiled method: the text it loads, the method it calls, the number it pushes.</summary>
internal sealed record Step(OpCode Code, string? Text, MethodBase? Called, int? Number)
{
    public bool Calls(string type, string method) => Called?.Name == method && Called.DeclaringType?.Name == type;
}

/// <summary>A method's steps, and the room that it is part of.</summary>
internal sealed record CompiledMethod(string Room, string Name, IReadOnlyList<Step> Steps);

/// <summary>The compiled methods of the pages: what Razor makes of markup is read there as it is run, however it is written.</summary>
internal static class CompiledCode
{
    private const BindingFlags Declared =
        BindingFlags.DeclaredOnly | BindingFlags.Instance | BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic;

    private static readonly Dictionary<short, OpCode> Codes = typeof(OpCodes)
        .GetFields()
        .Select(f => (OpCode)f.GetValue(null)!)
        .ToDictionary(c => c.Value);

    public static IReadOnlyList<CompiledMethod> Of(Assembly assembly, string rootNamespace) =>
        [
            .. from type in assembly.GetTypes()
            where type.Namespace?.StartsWith(rootNamespace, StringComparison.Ordinal) == true
            from method in type.GetMethods(Declared).Cast<MethodBase>().Concat(type.GetConstructors(Declared))
            where method.GetMethodBody() is not null
            select new CompiledMethod(Room(type.Namespace!, rootNamespace), $"{type.FullName}.{method.Name}", Steps(method)),
        ];

    private static string Room(string space, string root) => space == root ? "" : space[(root.Length + 1)..].Split('.')[0];

    private static List<Step> Steps(MethodBase method)
    {
        var il = method.GetMethodBody()!.GetILAsByteArray()!;
        var steps = new List<Step>();
        for (var at = 0; at < il.Length; )
        {
            var code = il[at] == 0xFE ? Codes[(short)(0xFE00 | il[at + 1])] : Codes[il[at]];
            at += code.Size;
            var operand = il.AsSpan(at);
            var text = code == OpCodes.Ldstr ? method.Module.ResolveString(BinaryPrimitives.ReadInt32LittleEndian(operand)) : null;
            var called = code.OperandType == OperandType.InlineMethod ? Resolve(method, operand) : null;
            if (code != OpCodes.Nop)
                steps.Add(new(code, text, called, Number(code, operand)));
            at += Length(code, operand);
        }
        return steps;
    }

    private static MethodBase? Resolve(MethodBase method, ReadOnlySpan<byte> operand) =>
        method.Module.ResolveMethod(
            BinaryPrimitives.ReadInt32LittleEndian(operand),
            method.DeclaringType!.IsGenericType ? method.DeclaringType.GetGenericArguments() : null,
            method.IsGenericMethod ? method.GetGenericArguments() : null
        );

    private static int? Number(OpCode code, ReadOnlySpan<byte> operand) =>
        code == OpCodes.Ldc_I4 ? BinaryPrimitives.ReadInt32LittleEndian(operand)
        : code == OpCodes.Ldc_I4_S ? (sbyte)operand[0]
        : code.Value >= OpCodes.Ldc_I4_0.Value && code.Value <= OpCodes.Ldc_I4_8.Value ? code.Value - OpCodes.Ldc_I4_0.Value
        : null;

    private static int Length(OpCode code, ReadOnlySpan<byte> operand) =>
        code.OperandType switch
        {
            OperandType.InlineNone => 0,
            OperandType.ShortInlineBrTarget or OperandType.ShortInlineI or OperandType.ShortInlineVar => 1,
            OperandType.InlineVar => 2,
            OperandType.InlineI8 or OperandType.InlineR => 8,
            OperandType.InlineSwitch => 4 + (4 * BinaryPrimitives.ReadInt32LittleEndian(operand)),
            _ => 4,
        };
}

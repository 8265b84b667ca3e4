"""What fits what, who answers for it, instruction sheets, covered elevations."""

import django.db.models.deletion
import django.db.models.functions.text
import django.db.models.lookups
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('materials', '0007_sent_orders'),
        ('projects', '0001_initial'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='CoveredFace',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('on', models.DateField()),
                ('at', models.DateTimeField()),
                ('by', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('company', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='projects.company')),
                ('elevation', models.OneToOneField(on_delete=django.db.models.deletion.PROTECT, related_name='covered', to='projects.elevation')),
            ],
            options={
                'ordering': ['id'],
            },
        ),
        migrations.CreateModel(
            name='UsedKinds',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kinds', models.JSONField(blank=True, default=dict)),
                ('version', models.PositiveIntegerField(default=1)),
                ('company', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='projects.company')),
                ('project', models.OneToOneField(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='used_kinds', to='projects.project')),
            ],
            options={
                'verbose_name_plural': 'used kinds',
                'ordering': ['id'],
            },
        ),
        migrations.CreateModel(
            name='PairTaken',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('version', models.PositiveIntegerField()),
                ('one', models.CharField(max_length=32)),
                ('other', models.CharField(max_length=32)),
                ('answer', models.CharField(max_length=16)),
                ('person', models.CharField(max_length=120)),
                ('reason', models.CharField(max_length=300)),
                ('at', models.DateTimeField()),
                ('by', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('company', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='projects.company')),
                ('project', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='pairs_taken', to='projects.project')),
                ('used', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='materials.usedkinds')),
            ],
            options={
                'verbose_name_plural': 'pairs taken on',
                'ordering': ['id'],
            },
        ),
        migrations.CreateModel(
            name='InstructionSheet',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('material', models.CharField(max_length=64)),
                ('title', models.CharField(max_length=160)),
                ('dated', models.DateField()),
                ('exposure_days', models.PositiveSmallIntegerField(blank=True, null=True)),
                ('file_path', models.CharField(max_length=200)),
                ('content_hash', models.CharField(max_length=64)),
                ('size_bytes', models.PositiveIntegerField()),
                ('added_at', models.DateTimeField()),
                ('withdrawn_at', models.DateTimeField(blank=True, null=True)),
                ('added_by', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('company', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='projects.company')),
            ],
            options={
                'ordering': ['material', '-dated', '-id'],
                'constraints': [models.UniqueConstraint(condition=models.Q(('withdrawn_at__isnull', True)), fields=('company', 'material', 'dated', 'content_hash'), name='instruction_sheet_once'), models.CheckConstraint(condition=models.Q(django.db.models.lookups.GreaterThanOrEqual(django.db.models.functions.text.Length('title'), 1), django.db.models.lookups.LessThanOrEqual(django.db.models.functions.text.Length('title'), 160)), name='instruction_sheet_title_length'), models.CheckConstraint(condition=models.Q(django.db.models.lookups.GreaterThanOrEqual(django.db.models.functions.text.Length('file_path'), 1), django.db.models.lookups.LessThanOrEqual(django.db.models.functions.text.Length('file_path'), 200)), name='instruction_sheet_path_length'), models.CheckConstraint(condition=models.Q(('exposure_days__isnull', True), models.Q(('exposure_days__gte', 1), ('exposure_days__lte', 730)), _connector='OR'), name='instruction_sheet_exposure')],
            },
        ),
        migrations.CreateModel(
            name='SheetAge',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('months', models.PositiveSmallIntegerField(default=24)),
                ('version', models.PositiveIntegerField(default=1)),
                ('company', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='projects.company')),
            ],
            options={
                'constraints': [models.UniqueConstraint(fields=('company',), name='sheet_age_once'), models.CheckConstraint(condition=models.Q(('months__gte', 1), ('months__lte', 120)), name='sheet_age_months'), models.CheckConstraint(condition=models.Q(('version__gte', 1)), name='sheet_age_version')],
            },
        ),
        migrations.AddConstraint(
            model_name='usedkinds',
            constraint=models.UniqueConstraint(condition=models.Q(('project__isnull', True)), fields=('company',), name='company_kinds_once'),
        ),
        migrations.AddConstraint(
            model_name='usedkinds',
            constraint=models.CheckConstraint(condition=models.Q(('version__gte', 1)), name='used_kinds_version'),
        ),
        migrations.AddConstraint(
            model_name='pairtaken',
            constraint=models.CheckConstraint(condition=models.Q(('answer__in', ['ask the maker', 'no', 'no entry'])), name='pair_taken_answer'),
        ),
        migrations.AddConstraint(
            model_name='pairtaken',
            constraint=models.CheckConstraint(condition=models.Q(django.db.models.lookups.GreaterThanOrEqual(django.db.models.functions.text.Length('person'), 1), django.db.models.lookups.LessThanOrEqual(django.db.models.functions.text.Length('person'), 120)), name='pair_taken_person_length'),
        ),
        migrations.AddConstraint(
            model_name='pairtaken',
            constraint=models.CheckConstraint(condition=models.Q(django.db.models.lookups.GreaterThanOrEqual(django.db.models.functions.text.Length('reason'), 1), django.db.models.lookups.LessThanOrEqual(django.db.models.functions.text.Length('reason'), 300)), name='pair_taken_reason_length'),
        ),
        migrations.AddConstraint(
            model_name='pairtaken',
            constraint=models.CheckConstraint(condition=models.Q(('version__gte', 1)), name='pair_taken_version'),
        ),
    ]

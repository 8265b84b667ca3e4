"""To whom issued orders went by mail."""

import django.db.models.deletion
import django.db.models.functions.text
import django.db.models.lookups
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('materials', '0006_order_headings'),
        ('projects', '0001_initial'),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='SentOrder',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('at', models.DateTimeField()),
                ('to', models.EmailField(max_length=254)),
                ('subject', models.CharField(max_length=254)),
                ('text', models.TextField()),
                ('by_server', models.BooleanField()),
                ('by', models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('company', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='projects.company')),
                ('job', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to='projects.job')),
                ('order', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='sent', to='materials.purchaseorder')),
            ],
            options={
                'ordering': ['id'],
                'constraints': [models.UniqueConstraint(fields=('order', 'to'), name='order_sent_once'), models.CheckConstraint(condition=models.Q(django.db.models.lookups.GreaterThanOrEqual(django.db.models.functions.text.Length('to'), 3), django.db.models.lookups.LessThanOrEqual(django.db.models.functions.text.Length('to'), 254)), name='order_sent_to_length')],
            },
        ),
    ]
